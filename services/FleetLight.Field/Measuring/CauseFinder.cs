using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Record.Calculations;

namespace FleetLight.Field.Measuring;

/// <summary>Works out what would explain a reading, by the service's own calculation.</summary>
public static class CauseFinder
{
    /// <summary>From so many fittings on it takes a phone so long that the page says so.</summary>
    public const int ManyFittings = 20;

    /// <summary>The answer; none where there is none. The page goes on meanwhile.</summary>
    /// <param name="question">What to ask.</param>
    /// <param name="clock">By which the work is cut into slices.</param>
    /// <param name="cancel">Gives it up.</param>
    public static async Task<NextMeasurementAnswer?> AskAsync(NextMeasurementRequest question, TimeProvider clock, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(question);
        return (await Slices.LastAsync(CalculateNextMeasurement.InSteps(question), clock, cancel))?.Answer;
    }
}
