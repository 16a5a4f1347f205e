using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Record.Calculations;

namespace FleetLight.Field.Measuring;

/// <summary>Works out what would explain a reading, by the service's own calculation.</summary>
public static class CauseFinder
{
    /// <summary>
    /// Most fittings of a circuit whose causes are worked out on a phone. The page stands still meanwhile, and of a larger circuit it
    /// would for many seconds.
    /// </summary>
    public const int MostFittings = 20;

    /// <summary>The answer; none where there is none.</summary>
    /// <param name="question">What to ask, of at most <see cref="MostFittings"/> fittings.</param>
    public static async Task<NextMeasurementAnswer?> AskAsync(NextMeasurementRequest question)
    {
        ArgumentNullException.ThrowIfNull(question);
        // What is shown already gets onto the screen first.
        await Task.Delay(1);
        return CalculateNextMeasurement.Answer(question).Answer;
    }
}
