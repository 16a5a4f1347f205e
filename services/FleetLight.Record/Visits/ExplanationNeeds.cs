using System.Collections.Frozen;
using System.Globalization;
using FleetLight.Contracts;
using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Contracts.Views;
using FleetLight.Record.Files;

namespace FleetLight.Record.Visits;

/// <summary>What the explanations of a circuit's readings, and the readings to take next, ask for.</summary>
internal static class ExplanationNeeds
{
    // Less likely ones are not prepared for, unless the readings cannot tell them from the leading one. Common practice, no source.
    private const double LeastLikelihood = 0.25;

    // One joint is at fault, and a box holds a few.
    private const int MostBoxes = 3;

    private static readonly FrozenDictionary<string, KindOfFault> Kinds =
        Enum.GetValues<KindOfFault>().ToFrozenDictionary(kind => Words.Of(kind), StringComparer.Ordinal);

    /// <summary>Adds what a circuit asks for.</summary>
    public static void Add(string circuitId, TakeAlongList list)
    {
        if (list.Ground.Circuits.GetValueOrDefault(circuitId) is not { } circuit)
        {
            list.Open($"Nothing is known of the circuit {circuitId}.");
            return;
        }

        foreach (var next in circuit.NextReadings)
        {
            if (next.Quantity == MeasuredAs.MegohmsInsulation) CircuitNeeds.Tester($"To measure next: {next.Says}", list);
            else if (next.Quantity != MeasuredAs.FittingLit) CircuitNeeds.Meter($"To measure next: {next.Says}", list);
        }

        if (circuit.Explanations.Count == 0) return;
        var lead = circuit.Explanations[0];
        foreach (var one in circuit.Explanations.Where(one => one.Group == lead.Group || one.Likelihood >= LeastLikelihood))
            Add(circuit, one, list);
    }

    private static void Add(CircuitView circuit, ExplanationView one, TakeAlongList list)
    {
        var says = string.Create(CultureInfo.InvariantCulture, $"Circuit {circuit.Name ?? circuit.Id}, {100 * one.Likelihood:0} % likely: {one.Says}");
        if (!Kinds.TryGetValue(one.Fault, out var kind))
        {
            list.Open(says);
            return;
        }

        switch (kind)
        {
            case KindOfFault.HighResistanceJoint or KindOfFault.FittingOpen:
                Joints(circuit, one, says, list);
                break;
            case KindOfFault.OpenLoop:
                list.Mind(TakeAlongCautions.Digging);
                Joints(circuit, one, says, list);
                break;
            case KindOfFault.WaterInJoint or KindOfFault.ShortBetweenCores:
                list.Mind(TakeAlongCautions.Digging);
                CircuitNeeds.Tester(says, list);
                Joints(circuit, one, says, list);
                break;
            case KindOfFault.WrongDriverOutput or KindOfFault.DriverNoOutput or KindOfFault.DriverAtLimit:
                Driver(circuit, says, list);
                break;
            case KindOfFault.SupplyReversed:
                CircuitNeeds.Sleeves(circuit.Id, says, list);
                break;
            case KindOfFault.MeterOnWrongRange or KindOfFault.MeterLeadsReversed:
                list.Tool(TakeAlongItem.Meter, "another meter, to compare", says);
                break;
            case KindOfFault.CableLonger or KindOfFault.CableShorter or KindOfFault.WrongConductorArea or KindOfFault.NoneOfThese
                or KindOfFault.AsDesigned or KindOfFault.OneFittingTooMany:
                CircuitNeeds.Meter(says, list);
                break;
        }

        if (IsOfFitting(kind)) CircuitNeeds.Fittings(circuit.Id, one.At, kind == KindOfFault.TwoFittingsOfOtherWattage ? 2 : 1, says, list);
    }

    private static bool IsOfFitting(KindOfFault kind) => kind is KindOfFault.FittingOfOtherWattage or KindOfFault.FittingOfUnlistedWattage
        or KindOfFault.TwoFittingsOfOtherWattage or KindOfFault.FittingShorted or KindOfFault.FittingMissing or KindOfFault.FittingReversed
        or KindOfFault.FittingOpen or KindOfFault.FittingForOtherDrive;

    private static void Driver(CircuitView circuit, string says, TakeAlongList list)
    {
        list.Mind(TakeAlongCautions.Mains);
        var driver = list.Ground.Designs.GetValueOrDefault(circuit.Id)?.Driver;
        var output = driver is null ? "as designed"
            : circuit.Drive == DriveKind.ConstantVoltage ? $"of {Words.Of(driver.RatedVolts, "V")} DC, {Words.Of(driver.MostAmps, "A")} at most"
            : $"of {Words.Of(driver.RatedMilliamps, "mA")}, {Words.Of(driver.MostVolts, "V")} DC at most";
        list.Add(new(TakeAlongItem.Driver, $"driver {output}", circuit.Id) { Pieces = 1 }, says);
    }

    // Where a run is suspect, the joint may be at either end of it.
    private static void Joints(CircuitView circuit, ExplanationView one, string says, TakeAlongList list)
    {
        var places = Places(one, list.Ground.Designs.GetValueOrDefault(circuit.Id)).ToArray();
        BoxView[] boxes = [.. places.Select(place => list.Ground.Boxes.GetValueOrDefault(place)).OfType<BoxView>().DistinctBy(box => box.Id)];
        if (boxes.Length > MostBoxes)
        {
            list.Open($"{boxes.Length} boxes of circuit {circuit.Id} may hold the joint; the parts are for those with the most connectors.");
            boxes = [.. boxes.OrderByDescending(Size).ThenBy(box => box.Id, StringComparer.Ordinal).Take(MostBoxes)];
        }

        foreach (var box in boxes) BoxNeeds.Remake(box, circuit.Id, says, list);
        if (boxes.Length == 0) BoxNeeds.Connectors($"{circuit.Id}/joint", says, list);

        int Size(BoxView box) => box.Joints.Where(joint => joint.CircuitId == circuit.Id).Sum(joint => joint.ConductorsPerConnector.Count);
    }

    private static IEnumerable<string> Places(ExplanationView one, CircuitInput? design)
    {
        var runs = (design?.Runs ?? []).ToDictionary(run => run.RunId, StringComparer.Ordinal);
        foreach (var at in one.At)
        {
            if (runs.TryGetValue(at, out var run))
            {
                yield return run.From;
                yield return run.To;
                continue;
            }

            yield return at;
            // A fitting is jointed in the box next to it.
            foreach (var next in runs.Values.Where(each => each.To == at)) yield return next.From;
        }
    }
}
