using System.Text.Json;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Circuits;
using FleetLight.Record.Corrections;
using FleetLight.Record.Materials;
using FleetLight.Record.OpenPoints;
using FleetLight.Record.Sites;
using FleetLight.Record.Works;

namespace FleetLight.PageParts.SitePages;

/// <summary>
/// A site as it was by a time, folded here out of its facts by the service's own rules: for what the service tells of today only, which
/// are the drawing of a circuit, its uncertainty, open points and material. Pure.
/// </summary>
public sealed class PastSite
{
    private readonly MemoryWorks works;

    private PastSite(MemoryWorks works, SiteStates states) => (this.works, States) = (works, states);

    /// <summary>The states of everything on it.</summary>
    public SiteStates States { get; }

    /// <summary>What was open.</summary>
    public OpenPointsView OpenPoints => OpenPointList.Of(States);

    /// <summary>Its circuits, as they stand in lists.</summary>
    public IReadOnlyList<CircuitLine> Circuits => [.. States.Circuits.Select(view => CircuitLines.Of(works.BasisOf(view.Id)!, view))];

    /// <summary>What it took of material.</summary>
    public MaterialsView Materials => MaterialList.OfSite(States);

    /// <summary>The site as it was.</summary>
    /// <param name="siteId">The site.</param>
    /// <param name="facts">All its facts as the service lists them, in any order.</param>
    /// <param name="judging">How circuits are judged; the stated defaults where absent.</param>
    /// <param name="asOf">What happened later is left out.</param>
    public static PastSite Of(string siteId, IEnumerable<FactView> facts, JudgingView? judging, DateTimeOffset asOf)
    {
        ArgumentNullException.ThrowIfNull(facts);
        var all = new MemoryWorks { Judging = judging is null ? Judging.Default : new Judging(judging.Version, judging.Settings) };
        all.Take(facts.Select(Read).OfType<RecordedFact>());
        var works = all.AsOf(asOf, null);
        var views = works.ViewsOfSite(siteId);
        return new PastSite(works, new SiteStates
        {
            SiteId = siteId,
            Site = works.SiteOf(siteId),
            Ducts = [.. views.OfType<DuctView>()],
            Cables = [.. views.OfType<CableView>()],
            Boxes = [.. views.OfType<BoxView>()],
            Circuits = [.. views.OfType<CircuitView>()],
            Designs = views.OfType<CircuitView>().Select(view => DesignOf(works, view.Id)).OfType<CircuitDesigned>()
                .ToDictionary(design => design.CircuitId, StringComparer.Ordinal),
        });
    }

    /// <summary>The circuit as it was built; none where nothing was recorded of it.</summary>
    public CircuitModelView? ModelOf(string circuitId) => works.BasisOf(circuitId) is { } basis ? CircuitModels.Of(basis) : null;

    /// <summary>Its design by then.</summary>
    public CircuitDesigned? DesignOf(string circuitId) => States.Designs.GetValueOrDefault(circuitId);

    /// <summary>What it took of material; none where there was no design.</summary>
    public MaterialsView? MaterialsOf(string circuitId) => DesignOf(circuitId) is null ? null : MaterialList.OfCircuit(States, circuitId);

    private static CircuitDesigned? DesignOf(MemoryWorks works, string circuitId) =>
        EffectiveFacts.Of(works.FileOf(new ThingRef(ThingKind.Circuit, circuitId))).Facts.Select(fact => fact.CountingData).OfType<CircuitDesigned>()
            .LastOrDefault(design => design.CircuitId == circuitId);

    private static RecordedFact? Read(FactView fact)
    {
        try
        {
            if (FactTypes.Find(fact.Type) is not { } type || fact.Data.Deserialize(type, WireJson.Lenient) is not IFact data) return null;
            return new RecordedFact(
                new FactOrigin
                {
                    Source = fact.Source,
                    Id = fact.Id,
                    RunningNumber = fact.RunningNumber,
                    DeviceTime = fact.DeviceTime,
                    HappenedAt = fact.HappenedAt,
                    RecordedAt = fact.RecordedAt,
                    TimeDoubt = fact.TimeDoubt,
                    ClockErrorSeconds = fact.ClockErrorSeconds,
                    Digest = fact.Digest,
                    MendedBy = fact.MendedBy,
                },
                data);
        }
        catch (JsonException)
        {
            // Written by a newer version, in words that this one does not know.
            return null;
        }
    }
}
