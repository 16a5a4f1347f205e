namespace FleetLight.Electrics;

/// <summary>A stretch of duct between two points: straight, a bend, or a straight that ends in a bend.</summary>
/// <param name="LengthMetres">Length of the straight part, m; 0 to 10,000.</param>
/// <param name="BendDegrees">Angle of the bend at its end, degrees; 0 to 360.</param>
/// <param name="BendRadiusMetres">Radius of the bend, m; 0.01 to 1,000, or 0 where there is none.</param>
public readonly record struct DuctStretch(double LengthMetres, double BendDegrees = 0, double BendRadiusMetres = 0);

/// <summary>The force to pull a cable through a duct.</summary>
/// <param name="ForceNewtons">Force at the pulling end, N.</param>
/// <param name="SidewallNewtonsPerMetre">Greatest force per metre of bend radius, N/m; 0 without bends.</param>
/// <param name="PermittedNewtons">Greatest permitted force, N.</param>
/// <param name="BendsDegrees">Sum of all bends, degrees; above 360 between two pulling points is unusual.</param>
public sealed record DuctPullResult(
    double ForceNewtons, double SidewallNewtonsPerMetre, double PermittedNewtons, double BendsDegrees)
{
    /// <summary>Force as percent of the permitted one.</summary>
    public double PercentOfPermitted => 100 * ForceNewtons / PermittedNewtons;
}

/// <summary>Pulling force by weight, friction and the capstan relation.</summary>
/// <remarks>
/// Straight: force grows by weight times friction. Bend: it is multiplied by e^(friction × angle in radians). Both
/// as in the usual cable makers' guides; level ducts, no lubricant unless the friction says so.
/// </remarks>
public static class DuctPull
{
    /// <summary>Standard acceleration of free fall, m/s², as the guides round it.</summary>
    public const double Gravity = 9.81;

    /// <summary>Friction that is taken where none is known: 0.5 (TES-P-104.05).</summary>
    public const double DefaultFriction = 0.5;

    /// <summary>
    /// Greatest pull per copper area, N/mm²: 50 (European cable construction standards; US guides permit 70).
    /// </summary>
    public const double NewtonsPerSquareMillimetre = 50;

    /// <summary>Force after a straight, N.</summary>
    /// <param name="newtons">Force before it, N; 0 or more.</param>
    /// <param name="lengthMetres">Length, m.</param>
    /// <param name="kilogramsPerMetre">Mass of the cables per metre, kg/m.</param>
    /// <param name="friction">Coefficient of friction.</param>
    public static double AfterStraight(
        double newtons, double lengthMetres, double kilogramsPerMetre, double friction) =>
        newtons + (Gravity * lengthMetres * kilogramsPerMetre * friction);

    /// <summary>Force after a bend, N: the capstan relation.</summary>
    /// <param name="newtons">Force before it, N.</param>
    /// <param name="degrees">Angle of the bend, degrees.</param>
    /// <param name="friction">Coefficient of friction.</param>
    public static double AfterBend(double newtons, double degrees, double friction) =>
        newtons * Math.Exp(friction * degrees * Math.PI / 180);

    /// <summary>Force along a route, from the end where the cable is fed in.</summary>
    /// <param name="route">The stretches in the order in which the cable's head passes them; 1 to 1,000.</param>
    /// <param name="kilogramsPerMetre">Mass of all cables pulled together, kg/m; above 0 to 100.</param>
    /// <param name="copperSquareMillimetres">Sum of the areas of all conductors pulled, mm²; above 0 to 10,000.</param>
    /// <param name="friction">Coefficient of friction; above 0 to 2.</param>
    /// <param name="startNewtons">Force that holds the cable back where it is fed in, N; 0 to 100,000.</param>
    public static Outcome<DuctPullResult> Along(
        IReadOnlyList<DuctStretch>? route, double kilogramsPerMetre, double copperSquareMillimetres,
        double friction = DefaultFriction, double startNewtons = 0)
    {
        if (route is null || route.Count is 0 or > 1000) return Refused(nameof(route), "1 to 1000 stretches");
        if (!(kilogramsPerMetre is > 0 and <= 100)) return Refused(nameof(kilogramsPerMetre), "above 0 to 100 kg/m");
        if (!(copperSquareMillimetres is > 0 and <= 10_000))
            return Refused(nameof(copperSquareMillimetres), "above 0 to 10000 mm²");
        if (!(friction is > 0 and <= 2)) return Refused(nameof(friction), "above 0 to 2");
        if (!(startNewtons is >= 0 and <= 100_000)) return Refused(nameof(startNewtons), "0 to 100000 N");
        double force = startNewtons, sidewall = 0, bends = 0;
        for (var i = 0; i < route.Count; i++)
        {
            var stretch = route[i];
            if (!IsSane(stretch)) return Refused($"route[{i}]", "0 to 10000 m, 0 to 360°, bend radius 0.01 to 1000 m");
            force = AfterStraight(force, stretch.LengthMetres, kilogramsPerMetre, friction);
            if (!(stretch.BendDegrees > 0)) continue;
            force = AfterBend(force, stretch.BendDegrees, friction);
            sidewall = Math.Max(sidewall, force / stretch.BendRadiusMetres);
            bends += stretch.BendDegrees;
        }

        return double.IsFinite(force)
            ? Outcome<DuctPullResult>.Of(new DuctPullResult(
                force, sidewall, NewtonsPerSquareMillimetre * copperSquareMillimetres, bends))
            : Refused(nameof(route), "a route whose force can be worked out");
    }

    private static bool IsSane(DuctStretch stretch) =>
        stretch.LengthMetres is >= 0 and <= 10_000
        && (stretch.BendDegrees == 0
            || stretch is { BendDegrees: > 0 and <= 360, BendRadiusMetres: >= 0.01 and <= 1000 });

    private static Outcome<DuctPullResult> Refused(string field, string range) =>
        Outcome<DuctPullResult>.Refused(field, range);
}
