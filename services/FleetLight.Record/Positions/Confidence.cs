using FleetLight.Contracts;
using FleetLight.Contracts.Facts;

namespace FleetLight.Record.Positions;

/// <summary>From stated accuracies (95 %) to standard deviations and back.</summary>
public static class Confidence
{
    /// <summary>
    /// Standard deviations, the same in every direction, that the radius of the 95 % circle is: the square root of −2 ln 0.05, 2.4477, which
    /// squared is the 95 % quantile of chi-square with 2 degrees of freedom, 5.991.
    /// </summary>
    public static double Circle { get; } = Math.Sqrt(-2 * Math.Log(0.05));

    /// <summary>Standard deviations to each side that hold 95 % of a normal quantity.</summary>
    public const double Line = 1.959963984540054;

    /// <summary>Risk of calling measurements that are sound a misfit, no unit: one in a thousand (common practice, no source).</summary>
    public const double MisfitRisk = 0.001;

    /// <summary>The standard deviation that is exceeded to either side with that risk: 3.29.</summary>
    public const double MisfitDeviations = 3.2905267314919;

    /// <summary>95 % radius that is taken of a position of which nobody said how well it is known, m, by its method; common practice, no source.</summary>
    public static double AssumedRadiusMetres(PositionMethod? method) => method switch
    {
        PositionMethod.Gnss => 3,
        PositionMethod.Tape => 0.5,
        PositionMethod.Plan => 2,
        _ => 10,
    };

    /// <summary>Half width of the 95 % interval of a tape, m: as stated, or 0.05 m and 0.3 % of the distance.</summary>
    public static double HalfWidthMetres(Tape tape)
    {
        ArgumentNullException.ThrowIfNull(tape);
        return tape.AccuracyMetres ?? (0.05 + (0.003 * tape.DistanceMetres));
    }

    /// <summary>Half width of the 95 % interval of one distance of an offset, m: as stated, or 0.1 m and 1 % of the distance.</summary>
    public static double HalfWidthMetres(BaselineOffset offset, double distanceMetres)
    {
        ArgumentNullException.ThrowIfNull(offset);
        return offset.AccuracyMetres ?? (0.1 + (0.01 * Math.Abs(distanceMetres)));
    }
}
