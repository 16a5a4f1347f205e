using FleetLight.Contracts;
using FleetLight.Contracts.Views;

namespace FleetLight.Record.Handover;

/// <summary>
/// Works out what to look after and when. Intervals are common practice without a source. What a fact shows as done counts from
/// there; the rest counts from the day on which the circuits were in use. Days count from that first day and not from one another, so
/// the end of a short month does not make them wander.
/// </summary>
internal static class MaintenancePlan
{
    private const int Shown = 3;

    /// <summary>The tasks of a site, the soonest first.</summary>
    /// <param name="circuits">Its circuits.</param>
    /// <param name="ducts">Its ducts.</param>
    /// <param name="boxes">Its boxes.</param>
    /// <param name="days">The clock.</param>
    /// <param name="day">The day of the pack.</param>
    /// <param name="every">How often.</param>
    public static IReadOnlyList<MaintenanceTask> Of(
        IReadOnlyList<HandoverCircuit> circuits, IReadOnlyList<DuctView> ducts, IReadOnlyList<BoxView> boxes, HandoverDays days, DateOnly day,
        HandoverIntervals every)
    {
        HandoverCircuit[] used = [.. circuits.Where(circuit => circuit.CommissionedOn is not null)];
        DateOnly? began = used.Length == 0 ? null : used.Max(circuit => circuit.CommissionedOn);
        var mains = used.Where(circuit => circuit.MainsSide).ToArray();
        var tasks = new List<MaintenanceTask>();
        if (circuits.Count > 0)
        {
            tasks.Add(Whole(
                "look-after-dark", MaintenanceHand.Owner, every.LookMonths,
                "Walk the site after dark: every fitting lit and aimed as it was; cut back plants, wipe lenses, clear leaves and mulch.",
                "A dark or dim fitting shows a fault early, and dirt takes more light than age does."));
            tasks.AddRange(PerCircuit(
                circuits, "read-driver", MaintenanceHand.Crew, every.ReadMonths,
                "Read each circuit at its driver and hold it against what it should read (see its readings in this pack).",
                "Joints that take up water and contacts that loosen show as a drift of the reading long before a fitting fails.",
                circuit => days.Of(circuit.Readings.FirstOrDefault(each => each.Reading is { Place: ReadingPlaceKind.Driver, Quantity: not ReadingQuantity.LoopOhms })
                    ?.Reading.HappenedAt)));
            tasks.AddRange(PerCircuit(
                circuits, "test-insulation", MaintenanceHand.Licensed, every.InsulationMonths,
                "Test the insulation of the buried cables, with drivers and fittings disconnected as their makers ask.",
                "Insulation that falls from test to test tells of a cut sheath or a wet joint.",
                circuit => days.Of(circuit.Tests.FirstOrDefault(each => each.Test is { Test: TestKind.InsulationResistance, MainsSide: false })?.Test.HappenedAt)));
        }

        if (boxes.Count > 0)
        {
            tasks.Add(Whole(
                "look-into-boxes", MaintenanceHand.Crew, every.BoxMonths,
                "With the circuit switched off, look at the boxes: seals, strain relief, gel, water, corrosion; those that can breathe are not blocked.",
                "Water in a joint is the usual end of a buried circuit."));
        }

        if (ducts.Count > 0)
        {
            tasks.Add(Whole(
                "look-at-duct-ends", MaintenanceHand.Crew, every.DuctMonths,
                "Look at the duct ends: plugs in place, labels legible, draw strings there and tied off.",
                "An open duct silts up, and a lost string means digging for the next cable."));
        }

        if (mains.Length > 0)
        {
            tasks.Add(Whole(
                "press-test-button", MaintenanceHand.Owner, every.ButtonMonths,
                "Press the test button of the residual current device that protects the lighting; it has to switch off at once.",
                "It is the one protection against shock that its owner can try.") with
            { CircuitIds = [.. mains.Select(circuit => circuit.State.Id)] });
            tasks.Add(Whole(
                "inspect-mains-side", MaintenanceHand.Licensed, every.MainsMonths,
                "Have the mains side inspected and tested, at the interval that local rules ask for where it is shorter.",
                "Protection, bonding and insulation on the mains side age unseen.") with
            { CircuitIds = [.. mains.Select(circuit => circuit.State.Id)] });
        }

        tasks.AddRange(circuits.SelectMany(circuit => OfDrift(circuit, days, day)));
        return
        [
            .. tasks.OrderBy(task => task.Due.Count == 0).ThenBy(task => task.Due.Count == 0 ? default : task.Due[0])
                .ThenBy(task => task.Key, StringComparer.Ordinal).ThenBy(task => string.Join(' ', task.CircuitIds), StringComparer.Ordinal),
        ];

        MaintenanceTask Whole(string key, MaintenanceHand hand, int months, string what, string why) => Make(key, hand, months, what, why, [], null, began, day);

        IEnumerable<MaintenanceTask> PerCircuit(
            IEnumerable<HandoverCircuit> of, string key, MaintenanceHand hand, int months, string what, string why, Func<HandoverCircuit, DateOnly?> last) =>
            of.GroupBy(circuit => (Last: last(circuit), Began: circuit.CommissionedOn))
                .Select(group => Make(key, hand, months, what, why, [.. group.Select(circuit => circuit.State.Id)], group.Key.Last, group.Key.Began, day));
    }

    private static MaintenanceTask Make(
        string key, MaintenanceHand hand, int months, string what, string why, IReadOnlyList<string> circuits, DateOnly? last, DateOnly? began, DateOnly day)
    {
        // What was done counts; without a record of it the next turn after today is told, for nobody knows whether the earlier ones were kept.
        IReadOnlyList<DateOnly> due = (last, began) switch
        {
            ({ } done, _) => [.. Enumerable.Range(1, Shown).Select(turn => done.AddMonths(turn * months))],
            (null, { } from) => [.. Turns(from, months).SkipWhile(turn => turn < day).Take(Shown)],
            _ => [],
        };
        return new MaintenanceTask
        {
            Key = key,
            What = what,
            Why = why,
            Hand = hand,
            CircuitIds = circuits,
            EveryMonths = months,
            LastOn = last,
            Due = due,
            Overdue = due.Count > 0 && due[0] < day,
        };
    }

    private static IEnumerable<DateOnly> Turns(DateOnly from, int months)
    {
        for (var turn = 1; ; turn++) yield return from.AddMonths(turn * months);
    }

    // A slow change that crosses its limit asks for a visit by a day of its own.
    private static IEnumerable<MaintenanceTask> OfDrift(HandoverCircuit circuit, HandoverDays days, DateOnly day) =>
        (circuit.State.Drift ?? []).Where(drift => drift.VisitBy is not null)
        .Select(drift => days.Of(drift.VisitBy!.Value))
        .Order().Take(1)
        .Select(by => new MaintenanceTask
        {
            Key = "follow-drift",
            What = $"Read {circuit.State.Name ?? circuit.State.Id} again at the places that drift, and mend what is found.",
            Why = "Its readings change slowly; the day lies before the earliest at which a limit may be crossed.",
            Hand = MaintenanceHand.Crew,
            CircuitIds = [circuit.State.Id],
            Due = [by],
            Overdue = by < day,
        });
}
