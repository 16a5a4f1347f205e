using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;

namespace FleetLight.Service.Store;

/// <summary>The file of a thing, as a document. Its id is <c>kind:id</c>.</summary>
public sealed class FileDocument
{
    /// <summary><c>kind:id</c>.</summary>
    public required string Id { get; set; }

    /// <summary>Kind of the thing.</summary>
    public required ThingKind Kind { get; set; }

    /// <summary>The thing.</summary>
    public required string ThingId { get; set; }

    /// <summary>Its facts in the order in which they happened.</summary>
    public required RecordedFact[] Facts { get; set; }
}

/// <summary>The projected state of a thing, as a document.</summary>
/// <typeparam name="T">The state.</typeparam>
public abstract class StateDocument<T> where T : ThingView
{
    /// <summary>The thing.</summary>
    public required string Id { get; set; }

    /// <summary>Its site.</summary>
    public string? SiteId { get; set; }

    /// <summary>Its state.</summary>
    public required T View { get; set; }
}

/// <summary>State of a site.</summary>
public sealed class SiteDocument : StateDocument<SiteView>;

/// <summary>State of a duct.</summary>
public sealed class DuctDocument : StateDocument<DuctView>;

/// <summary>State of a cable.</summary>
public sealed class CableDocument : StateDocument<CableView>;

/// <summary>State of a box.</summary>
public sealed class BoxDocument : StateDocument<BoxView>;

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
