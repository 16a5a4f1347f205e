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
/// as in the usual cable makers' guides; level ducts, no lubricant unless the friction says so. The weight of the cable
/// within a bend is left out, so a bend right where the cable is fed in, without any force that holds it back, adds
/// nothing.
/// </remarks>
public static class DuctPull
{
    /// <summary>Standard acceleration of free fall, m/s², as the guides round it.</summary>
    public const double Gravity = 9.81;

    /// <summary>
    /// Friction that is taken where none is known: 0.5 (TES-P-104.05, which has 0.3 to 0.4 for a polyethylene sheath in
    /// a dry duct, 0.5 to 0.6 for PVC, and about half of that with lubricant).
    /// </summary>
    public const double DefaultFriction = 0.5;

    /// <summary>
    /// Greatest pull per copper area, N/mm²: 50 (European cable construction standards; US guides permit 70).
    /// </summary>
    public const double NewtonsPerSquareMillimetre = PullLimit.European;

    /// <summary>
    /// Greatest sum of bends between two pulling points, degrees: four right angles (NFPA 70, 352.26 and others).
    /// </summary>
    public const double MostBendsDegrees = 360;

    internal const int MostStretches = 1000;

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
    /// <param name="copperSquareMillimetres">Sum of the areas of all conductors pulled, mm²; 0.01 to 10,000.</param>
    /// <param name="friction">Coefficient of friction; above 0 to 2.</param>
    /// <param name="startNewtons">Force that holds the cable back where it is fed in, N; 0 to 100,000.</param>
    public static Outcome<DuctPullResult> Along(
        IReadOnlyList<DuctStretch>? route, double kilogramsPerMetre, double copperSquareMillimetres,
        double friction = DefaultFriction, double startNewtons = 0)
    {
        if (!(copperSquareMillimetres is >= DuctFill.LeastMillimetres and <= 10_000))
            return Outcome<DuctPullResult>.Refused(nameof(copperSquareMillimetres), "0.01 to 10000 mm²");
        var refusal = Obstacle(route, kilogramsPerMetre, nameof(kilogramsPerMetre), friction, startNewtons);
        if (refusal is not null || route is null) return new Outcome<DuctPullResult>(null, refusal);
        var permitted = NewtonsPerSquareMillimetre * copperSquareMillimetres;
        return Work(route, kilogramsPerMetre, permitted, friction, startNewtons) is { } result
            ? Outcome<DuctPullResult>.Of(result)
            : Outcome<DuctPullResult>.Refused(nameof(route), Workable);
    }

    internal const string Workable = "a route whose force can be worked out";

    internal static InputRefusal? Obstacle(
        IReadOnlyList<DuctStretch>? route, double kilogramsPerMetre, string kilogramsField, double friction,
        double startNewtons)
    {
        if (route is null || route.Count is 0 or > MostStretches) return Range(nameof(route), "1 to 1000 stretches");
        if (!(kilogramsPerMetre is > 0 and <= 100)) return Range(kilogramsField, "above 0 to 100 kg/m");
        if (!(friction is > 0 and <= 2)) return Range(nameof(friction), "above 0 to 2");
        if (!(startNewtons is >= 0 and <= 100_000)) return Range(nameof(startNewtons), "0 to 100000 N");
        for (var i = 0; i < route.Count; i++)
            if (!IsSane(route[i])) return Range($"route[{i}]", "0 to 10000 m, 0 to 360°, bend radius 0.01 to 1000 m");
        return null;
    }

    /// <summary>The result along a checked route; null where the force leaves the range of numbers.</summary>
    internal static DuctPullResult? Work(
        IReadOnlyList<DuctStretch> route, double kilogramsPerMetre, double permittedNewtons, double friction,
        double startNewtons)
    {
        double force = startNewtons, sidewall = 0, bends = 0;
        foreach (var stretch in route)
        {
            force = AfterStraight(force, stretch.LengthMetres, kilogramsPerMetre, friction);
            if (!(stretch.BendDegrees > 0)) continue;
            force = AfterBend(force, stretch.BendDegrees, friction);
            sidewall = Math.Max(sidewall, force / stretch.BendRadiusMetres);
            bends += stretch.BendDegrees;
        }

        return double.IsFinite(force) && double.IsFinite(sidewall)
            ? new DuctPullResult(force, sidewall, permittedNewtons, bends)
            : null;
    }

    private static bool IsSane(DuctStretch stretch) =>
        stretch.LengthMetres is >= 0 and <= 10_000
        && (stretch.BendDegrees == 0
            || stretch is { BendDegrees: > 0 and <= 360, BendRadiusMetres: >= 0.01 and <= 1000 });

    private static InputRefusal Range(string field, string range) =>
        new(field, $"The value is missing or outside its range, which is {range}.");
}
