using System.Collections.Immutable;
using FleetLight.Contracts;
using FleetLight.Electrics;

namespace FleetLight.Benchmarks.Diagnosing;

/// <summary>Draws which readings are taken of a circuit.</summary>
internal static class Rounds
{
    private const int MostPlaces = 6;

    /// <summary>
    /// Volts and current at the driver and which fittings are lit, volts at up to six places, and now and then the
    /// insulation and the loop's resistance.
    /// </summary>
    public static ImmutableArray<(string Place, MeasuredQuantity Quantity)> Draw(Chance chance, CircuitPlan plan)
    {
        var asked = ImmutableArray.CreateBuilder<(string, MeasuredQuantity)>();
        foreach (var fitting in plan.Model.Fittings) asked.Add((fitting.Id, MeasuredQuantity.FittingLit));
        asked.Add((CircuitModel.DriverNode, MeasuredQuantity.VoltsDc));
        asked.Add((CircuitModel.DriverNode, MeasuredQuantity.Milliamps));
        var sound = plan.Solve([], [])
            ?? throw new InvalidOperationException("A drawn design has no operating point.");
        var places = sound.Places
            .Where(p => p != CircuitModel.DriverNode && sound.Predicts(p, MeasuredQuantity.VoltsDc)).ToList();
        for (var left = 1 + chance.Next(MostPlaces); left > 0 && places.Count > 0; left--)
        {
            var at = chance.Next(places.Count);
            asked.Add((places[at], MeasuredQuantity.VoltsDc));
            places.RemoveAt(at);
        }

        if (chance.Next(2) == 0) asked.Add((CircuitModel.DriverNode, MeasuredQuantity.MegohmsInsulation));
        if (plan.Model.Drive == DriveKind.ConstantCurrent && chance.Next(2) == 0)
            asked.Add((CircuitModel.DriverNode, MeasuredQuantity.LoopOhms));
        return asked.ToImmutable();
    }
}
