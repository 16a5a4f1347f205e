using System.Collections.Frozen;

namespace FleetLight.Service.Access;

/// <summary>What somebody is, as a named set of scopes.</summary>
public enum Role
{
    /// <summary>A van's tablet, laptop or test rig: posts its facts and reads what is built and expected.</summary>
    Device,

    /// <summary>Leads a crew: as a device, and notes alerts and assigns sites.</summary>
    CrewLead,

    /// <summary>The office: reads everything, records designs, mends facts, judges, plans visits, enrols devices, tells others of alerts.</summary>
    Office,

    /// <summary>Somebody outside the organisation who may see how its circuits stand.</summary>
    ThirdParty,

    /// <summary>Everything in the organisation but posting as a device.</summary>
    Administrator,
}

/// <summary>The scopes of each role.</summary>
public static class Roles
{
    private static readonly FrozenDictionary<Role, Scope[]> Scopes = new Dictionary<Role, Scope[]>
    {
        [Role.Device] = [Scope.PostEvents, Scope.ReadStatus, Scope.ReadAsBuilt],
        [Role.CrewLead] = [Scope.PostEvents, Scope.ReadStatus, Scope.ReadAsBuilt, Scope.AcknowledgeAlerts, Scope.AssignSites],
        [Role.Office] =
        [
            Scope.ReadStatus, Scope.ReadAsBuilt, Scope.AcknowledgeAlerts, Scope.MendFacts, Scope.SetJudging, Scope.ManageWebhooks,
            Scope.EnrolDevices, Scope.AssignSites, Scope.PlanVisits, Scope.PostEvents, Scope.Subscribe,
        ],
        [Role.ThirdParty] = [Scope.ReadStatus, Scope.Subscribe],
        [Role.Administrator] = [Scope.ReadStatus, Scope.ReadAsBuilt, Scope.Administer],
    }.ToFrozenDictionary();

    // What 'administer' has always meant, now that each part of it can be given by itself.
    private static readonly Scope[] OfAdminister =
    [
        Scope.AcknowledgeAlerts, Scope.MendFacts, Scope.SetJudging, Scope.ManageWebhooks, Scope.ManageKeys, Scope.EnrolDevices,
        Scope.AssignSites, Scope.ReadAudit, Scope.PlanVisits, Scope.Subscribe,
    ];

    /// <summary>The scopes that a role names.</summary>
    public static Scope[] ScopesOf(Role role) => Scopes[role];

    /// <summary>Whether the scopes that were given allow that one.</summary>
    public static bool Allow(IReadOnlyList<Scope> given, Scope asked) =>
        given.Contains(asked) || (given.Contains(Scope.Administer) && OfAdminister.Contains(asked));

    /// <summary>
    /// Whether whoever has the first scopes may give the second ones to somebody else: nobody gives more than they have. An
    /// administrator gives all; whoever enrols devices gives what a device needs.
    /// </summary>
    public static bool MayGive(IReadOnlyList<Scope> have, IEnumerable<Scope> wanted) =>
        have.Contains(Scope.Administer)
        || wanted.All(scope => Allow(have, scope) || (have.Contains(Scope.EnrolDevices) && Scopes[Role.Device].Contains(scope)));
}
