namespace FleetLight.Service.Access;

/// <summary>What a key or a token allows.</summary>
public enum Scope
{
    /// <summary>Post events as the key's device, or as the office's own source, and read its receipts.</summary>
    PostEvents,

    /// <summary>Read the state of circuits and sites, alerts and changes, and ask for calculations.</summary>
    ReadStatus,

    /// <summary>Read as-built data, photos and visits.</summary>
    ReadAsBuilt,

    /// <summary>Administer the organisation: every scope below, and giving any scope to others.</summary>
    Administer,

    /// <summary>Note alerts.</summary>
    AcknowledgeAlerts,

    /// <summary>Mend or dismiss facts that were refused.</summary>
    MendFacts,

    /// <summary>Set how circuits are judged.</summary>
    SetJudging,

    /// <summary>Say where alerts are told, and try deliveries again.</summary>
    ManageWebhooks,

    /// <summary>Make, list and revoke keys.</summary>
    ManageKeys,

    /// <summary>Issue one-time codes for devices, and report a device lost.</summary>
    EnrolDevices,

    /// <summary>List devices and say which sites each is assigned.</summary>
    AssignSites,

    /// <summary>Read who administered what.</summary>
    ReadAudit,

    /// <summary>Plan visits, change them, and call them off.</summary>
    PlanVisits,

    /// <summary>Have facts, alerts and changes told to an address of one's own.</summary>
    Subscribe,
}
