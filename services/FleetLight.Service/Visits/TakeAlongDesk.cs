using FleetLight.Contracts;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;
using FleetLight.Record.Visits;
using FleetLight.Service.Circuits;
using FleetLight.Service.Works;
using Npgsql;

namespace FleetLight.Service.Visits;

/// <summary>Brings together what the core needs to say what to take along.</summary>
public sealed class TakeAlongDesk(NpgsqlDataSource database, CircuitStatus status, CurrentCircuits circuits)
{
    // A crew does not see to more circuits in a day, and each may take a diagnosis.
    private const int MostCircuits = 24;

    /// <summary>What to take along for these alerts.</summary>
    public async Task<TakeAlongView> OfAsync(string organisation, IReadOnlyList<VisitAlert> alerts, CancellationToken cancel)
    {
        Finding[] findings = [.. alerts.Where(alert => alert.Standing != AlertStanding.Cleared).Select(alert => alert.Finding).OfType<Finding>()];
        string[] named =
        [
            .. findings.Where(finding => finding.Subject.Kind == ThingKind.Circuit).SelectMany(finding => finding.CircuitIds.Prepend(finding.Subject.Id))
                .Distinct(StringComparer.Ordinal),
        ];
        var (views, designs) = (new Dictionary<string, CircuitView>(StringComparer.Ordinal), new Dictionary<string, CircuitInput>(StringComparer.Ordinal));
        foreach (var id in named.Take(MostCircuits))
        {
            if (await status.FindAsync(organisation, id, cancel) is not { } view) continue;
            views[id] = view;
            if (await circuits.FindAsync(organisation, id, cancel) is { } current && CircuitModels.Of(current.Basis).Circuit is { } design) designs[id] = design;
        }

        var states = new StateRows(database, organisation);
        var boxes = views.Values.SelectMany(view => view.BoxIds)
            .Concat(designs.Values.SelectMany(design => design.Runs).SelectMany(run => new[] { run.From, run.To }))
            .Concat(SubjectsOf(findings, ThingKind.Box)).Distinct(StringComparer.Ordinal);
        var along = TakeAlong.Of(alerts, new TakeAlongGround(
            views, designs,
            await states.LoadAsync<DuctView>(StateKinds.Duct, SubjectsOf(findings, ThingKind.Duct), cancel),
            await states.LoadAsync<CableView>(StateKinds.Cable, SubjectsOf(findings, ThingKind.Cable), cancel),
            await states.LoadAsync<BoxView>(StateKinds.Box, boxes, cancel)));
        return named.Length <= MostCircuits
            ? along
            : along with { Open = [.. along.Open, $"Only the first {MostCircuits} of {named.Length} circuits were looked into."] };
    }

    private static IEnumerable<string> SubjectsOf(Finding[] findings, ThingKind kind) =>
        findings.Where(finding => finding.Subject.Kind == kind).Select(finding => finding.Subject.Id).Distinct(StringComparer.Ordinal);
}
