using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Field.Keeping;
using FleetLight.Field.Sites;
using FleetLight.Record.Works;

namespace FleetLight.Pages.Tests.Field.Sites;

/// <summary>A site of given facts, without a browser.</summary>
internal sealed class SiteInHand : ISiteState
{
    private readonly SiteParts parts;

    public SiteInHand(params IFact[] facts)
    {
        Works.Take(facts.Select((fact, index) => new RecordedFact(Origin(index + 1), fact)));
        parts = SiteParts.Of(Works, SiteId!);
    }

    public event Action? Changed;

    public Identity? Identity => new("http://127.0.0.1/", "urn:device:a", "org");

    public string? SiteId => Testing.Builders.Facts.Site;

    public string SiteName => Works.SiteOf(SiteId!)?.Name ?? SiteId!;

    public MemoryWorks Works { get; } = new();

    public IReadOnlyList<DuctView> Ducts => parts.Ducts;

    public IReadOnlyList<CableView> Cables => parts.Cables;

    public IReadOnlyList<BoxView> Boxes => parts.Boxes;

    public IReadOnlyList<CircuitDesigned> Designs => parts.Designs;

    public IReadOnlyCollection<SitePhoto> Photos => [];

    public DateTimeOffset? FetchedAt => null;

    public OutboxSummary Outbox { get; } = new();

    public bool HasSignal => true;

    public Task<RecordOutcome> RecordAsync(IReadOnlyList<IFact> facts, IReadOnlyList<PhotoOf>? photos = null, DateTimeOffset? happenedAt = null, int? mends = null)
    {
        Changed?.Invoke();
        return Task.FromResult(new RecordOutcome([], []));
    }

    private static FactOrigin Origin(int number)
    {
        var at = new DateTimeOffset(2026, 3, 2, 8, 0, 0, TimeSpan.Zero).AddMinutes(number);
        return new FactOrigin { Source = "urn:device:a", Id = $"{number}", RunningNumber = number, DeviceTime = at, HappenedAt = at, RecordedAt = at, Digest = "" };
    }
}
