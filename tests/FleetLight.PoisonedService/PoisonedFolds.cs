using System.Text.Json;
using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Circuits;
using FleetLight.Record.Corrections;
using FleetLight.Record.Works;
using FleetLight.Service.Works;

namespace FleetLight.PoisonedService;

/// <summary>
/// The folds of a build with a fault in it: they fail on a fact that counts and holds the word <c>poison</c>, on a thing
/// whose id begins with <c>cursed</c>, and on a reading of 66.6.
/// </summary>
internal sealed class PoisonedFolds : WorksFolds
{
    private const double Reading = 66.6;

    public override SiteView Site(IWorks works, string id) => base.Site(works, Sound(works, ThingKind.Site, id));

    public override CableView Cable(IWorks works, string id) => base.Cable(works, Sound(works, ThingKind.Cable, id));

    public override BoxView Box(IWorks works, string id) => base.Box(works, Sound(works, ThingKind.Box, id));

    public override DuctView Duct(IWorks works, string id) => base.Duct(works, Sound(works, ThingKind.Duct, id));

    public override CircuitBasis Basis(IWorks works, string id) => base.Basis(works, Sound(works, ThingKind.Circuit, id));

    public override CircuitView Judge(CircuitBasis basis, RecentReadings recent, KeptJudgements? judged) =>
        recent.Window.Entries.Any(entry => entry.Value == Reading)
            ? throw new InvalidOperationException("A reading of 66.6.")
            : base.Judge(basis, recent, judged);

    private static string Sound(IWorks works, ThingKind kind, string id)
    {
        if (id.StartsWith("cursed", StringComparison.Ordinal)) throw new InvalidOperationException("A cursed thing.");
        foreach (var fact in EffectiveFacts.Of(works.FileOf(new(kind, id))).Facts)
        {
            if (fact.CountingData is { } data
                && JsonSerializer.Serialize(data, data.GetType(), WireJson.Lenient).Contains("poison", StringComparison.Ordinal))
                throw new KeyNotFoundException("A poisoned fact.");
        }

        return id;
    }
}
