using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Field.Keeping;
using FleetLight.Record.Checks;
using FleetLight.Record.Works;

namespace FleetLight.Field.Sites;

/// <summary>
/// The chosen site as this phone knows it: everything that came from the service and everything that was recorded here, folded
/// together. Whoever shows it listens to <see cref="Changed"/>.
/// </summary>
public interface ISiteState
{
    /// <summary>Who this phone is; none where it is not enrolled.</summary>
    Identity? Identity { get; }

    /// <summary>The chosen site; none where none is chosen.</summary>
    string? SiteId { get; }

    /// <summary>What people call it.</summary>
    string SiteName { get; }

    /// <summary>The folded facts: every view of every thing. Not to be handed facts by others.</summary>
    MemoryWorks Works { get; }

    /// <summary>The site's ducts, in the order of their names.</summary>
    IReadOnlyList<DuctView> Ducts { get; }

    /// <summary>The site's cables, in the order of their names.</summary>
    IReadOnlyList<CableView> Cables { get; }

    /// <summary>The site's boxes, in the order of their names.</summary>
    IReadOnlyList<BoxView> Boxes { get; }

    /// <summary>The designs of the site's circuits that count, in the order of their names.</summary>
    IReadOnlyList<CircuitDesigned> Designs { get; }

    /// <summary>The site's photos, in no order.</summary>
    IReadOnlyCollection<SitePhoto> Photos { get; }

    /// <summary>When the site was fetched last; none where it never was.</summary>
    DateTimeOffset? FetchedAt { get; }

    /// <summary>How sending stands.</summary>
    OutboxSummary Outbox { get; }

    /// <summary>Whether the browser sees a signal.</summary>
    bool HasSignal { get; }

    /// <summary>Anything of the above changed.</summary>
    event Action? Changed;

    /// <summary>
    /// Checks facts as the service will, records them on this phone, all or none, and folds them in. When it answers without a
    /// problem they are on the disk; sending follows by itself.
    /// </summary>
    /// <param name="facts">What happened, in its order.</param>
    /// <param name="photos">Photos, with the thing that each shows.</param>
    /// <param name="happenedAt">When it happened; now where absent.</param>
    /// <param name="mends">Number of the refused fact that the first one mends.</param>
    Task<RecordOutcome> RecordAsync(
        IReadOnlyList<IFact> facts, IReadOnlyList<PhotoOf>? photos = null, DateTimeOffset? happenedAt = null, int? mends = null);
}

/// <summary>A photo, and what it shows.</summary>
/// <param name="Thing">The thing that it shows.</param>
/// <param name="Photo">The photo.</param>
/// <param name="Caption">What is to be seen.</param>
public sealed record PhotoOf(ThingRef Thing, TakenPhoto Photo, string? Caption = null);

/// <summary>What recording came to.</summary>
/// <param name="Numbers">The running numbers that were given; none where there are problems.</param>
/// <param name="Problems">What is wrong.</param>
public sealed record RecordOutcome(IReadOnlyList<int> Numbers, IReadOnlyList<FactProblem> Problems)
{
    /// <summary>Whether the facts are kept.</summary>
    public bool Kept => Problems.Count == 0;
}
