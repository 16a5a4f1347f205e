using FleetLight.Contracts.Views;

namespace FleetLight.Service.Store;

/// <summary>An alert and its history.</summary>
public sealed class AlertDocument
{
    /// <summary>The alert.</summary>
    public required string Id { get; set; }

    /// <summary>Its site.</summary>
    public required string SiteId { get; set; }

    /// <summary>Where it stands.</summary>
    public required AlertStanding Standing { get; set; }

    /// <summary>Its severity.</summary>
    public required AlertSeverity Severity { get; set; }

    /// <summary>Its rule.</summary>
    public required string Rule { get; set; }

    /// <summary>Its state.</summary>
    public required AlertView View { get; set; }
}
