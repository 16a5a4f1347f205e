using FleetLight.Contracts;
using FleetLight.Contracts.Facts;

namespace FleetLight.Record.Tests.Works;

/// <summary>The facts of circuits in generated histories.</summary>
internal static class CircuitHistories
{
    public static IFact Plain(Dice dice) => dice.Below(14) switch
    {
        0 or 1 => Design(dice),
        2 => CircuitFacts.Fixed(F(dice), dice.Is() ? 1 + dice.Below(5) : null, K(dice)),
        3 => CircuitFacts.Connected(dice.Is() ? CircuitFacts.Driver(most: 20 + dice.Below(40)) : null, K(dice)),
        4 => CircuitFacts.Energised(dice.Is() ? [F(dice)] : null, K(dice)),
        5 => CircuitFacts.HandedOver(K(dice)),
        6 => CircuitFacts.Fault($"fault{dice.Below(3)}", circuitId: K(dice)),
        7 => CircuitFacts.Repair(dice.Is() ? [$"fault{dice.Below(3)}"] : null, circuitId: K(dice)),
        8 => CircuitFacts.Insulation(dice.Below(3), circuitId: K(dice)),
        9 => dice.Is() ? CircuitFacts.Polarity(dice.Is(), circuitId: K(dice)) : CircuitFacts.TripTime(
            20 * dice.Below(30),
            circuitId: K(dice)),
        _ => Reading(dice),
    };

    private static ReadingTaken Reading(Dice dice)
    {
        var place = dice.Word<ReadingPlaceKind>();
        return CircuitFacts.Reading(
            5 + (dice.Below(60) / 4.0),
            dice.Word<ReadingQuantity>(),
            place,
            place switch { ReadingPlaceKind.Driver => null, ReadingPlaceKind.Box => Histories.Id(dice, "b"), _ => F(dice) },
            circuitId: K(dice),
            siteId: Histories.Site(dice));
    }

    private static CircuitDesigned Design(Dice dice)
    {
        var fittings = Enumerable.Range(0, 1 + dice.Below(3)).Select(i => CircuitFacts.Fitting($"F{i}", 1 + dice.Below(4))).ToArray();
        var runs = new List<RunDesign>();
        var from = "driver";
        for (var i = 0; i < fittings.Length; i++)
        {
            if (dice.Is())
            {
                var box = $"b{i}";
                runs.Add(CircuitFacts.Run($"B{i}", from, box, 1 + dice.Below(40)));
                from = box;
            }

            runs.Add(CircuitFacts.Run(
                $"R{i}", from, fittings[i].FittingId, 1 + dice.Below(40),
                cableId: dice.Is() ? Histories.Id(dice, "c") : null));
            from = fittings[i].FittingId;
        }

        return CircuitFacts.Designed(
            K(dice), dice.Word<DriveKind>(), fittings: fittings, runs: [.. runs], mainsSide: dice.Below(4) == 0);
    }

    private static string K(Dice dice) => Histories.Id(dice, "k");

    private static string F(Dice dice) => Histories.Id(dice, "F");
}
