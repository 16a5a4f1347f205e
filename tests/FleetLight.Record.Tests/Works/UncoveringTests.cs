using System.Text.Json;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FsCheck;
using FsCheck.Xunit;

namespace FleetLight.Record.Tests.Works;

/// <summary>Law: withdrawing a fact brings back whatever it had covered, as if it had never been sent.</summary>
public sealed class UncoveringTests
{
    [Property(MaxTest = 1000, StartSize = 2, EndSize = 60)]
    public void A_withdrawn_fact_leaves_no_trace_but_its_line(PositiveInt size, DoNotSize<int> seed)
    {
        var history = Histories.Make(size.Get, seed.Item).Where(fact => fact.Data is not FactCorrected).ToArray();
        if (history.Length == 0) return;
        var withdrawn = history[(seed.Item & int.MaxValue) % history.Length];
        var without = new WorksModel();
        without.Take([.. history.Where(fact => fact != withdrawn)]);
        var works = new WorksModel();
        works.Take(history);

        works.Take(new Crew("editor").Waits(1000).Records(Facts.Withdrawn(withdrawn)));

        foreach (var (thing, view) in without.Views)
            Assert.Equal(Shown(view), Shown(works.Views[thing]));
        Assert.Equal(without.Standing(), works.Standing());
    }

    private static string Shown(ThingView view) =>
        JsonSerializer.Serialize(view with { Facts = [] }, view.GetType(), WireJson.Lenient);
}
