using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>The longest new run at each conductor area, by bisection on whole tenths of a metre.</summary>
/// <remarks>
/// Bisection may be used because a longer run never turns a no into anything else: it raises what a driver of constant
/// current must give, and lowers every voltage of a constant-voltage circuit.
/// </remarks>
public static class LongestRuns
{
    /// <summary>The greatest length that is tried, m.</summary>
    public const double MostMetres = 10_000;

    private const int StepsPerMetre = 10;

    internal static ImmutableArray<LongestRun> Of(
        HeadroomQuestion question, HeadroomOptions options, Assumptions assumptions)
    {
        var lengths = ImmutableArray.CreateBuilder<LongestRun>();
        var fewest = 0;
        foreach (var area in ConductorResistance.StandardAreasSquareMillimetres)
        {
            var trial = new Trial(question, area, options, assumptions);
            var longest = trial.Longest(fewest);
            lengths.Add(longest);
            // A larger conductor reaches at least as far.
            if (longest.LengthMetres is { } metres) fewest = (int)Math.Round(metres * StepsPerMetre);
        }

        return lengths.ToImmutable();
    }

    private sealed class Trial(
        HeadroomQuestion question, double area, HeadroomOptions options, Assumptions assumptions)
    {
        private readonly ImmutableArray<HeadroomReason> spare = SpareCheck.Reasons(question);

        public LongestRun Longest(int fewest)
        {
            var most = (int)MostMetres * StepsPerMetre;
            if (Refused(most) is not { } far) return new LongestRun(area, MostMetres, null);
            if (Refused(fewest) is { } near)
            {
                if (fewest == 0 || Refused(0) is not null) return new LongestRun(area, null, near);
                fewest = 0;
            }

            while (most - fewest > 1)
            {
                var middle = (fewest + most) / 2;
                if (Refused(middle) is { } limit) (most, far) = (middle, limit);
                else fewest = middle;
            }

            return new LongestRun(area, (double)fewest / StepsPerMetre, far);
        }

        // What refuses a length; null where nothing does.
        private HeadroomLimit? Refused(int steps)
        {
            var run = (question.Where.Run ?? new NewRun(0, area, options.RunClass)) with
            {
                LengthMetres = (double)steps / StepsPerMetre,
                AreaSquareMillimetres = area,
            };
            var asked = question with { Where = question.Where with { Run = run } };
            var found = Assessment.Of(AlteredCircuit.Build(asked), options, assumptions, spare);
            return found.May == MayBeAdded.No ? found.Reasons[0].Limit : null;
        }
    }
}
