namespace FleetLight.Electrics;

/// <summary>From which end of a duct to pull.</summary>
public enum PullFrom
{
    /// <summary>From where the recorded route ends; the cable is fed in where it begins.</summary>
    RouteEnd,

    /// <summary>From where the recorded route begins; the cable is fed in where it ends.</summary>
    RouteBeginning,

    /// <summary>Both ends take the same force.</summary>
    Either,
}

/// <summary>A pull in both directions, and which is the better.</summary>
/// <param name="FromRouteEnd">The pull from the end of the recorded route.</param>
/// <param name="FromRouteBeginning">The pull from its beginning.</param>
/// <param name="Better">From where it takes less force.</param>
/// <param name="IsWithin">Whether that pull is within the permitted force, the sidewall force and 360° of
/// bends.</param>
/// <param name="Text">The same in plain words.</param>
public sealed record DuctPullPlan(
    DuctPullResult FromRouteEnd, DuctPullResult FromRouteBeginning, PullFrom Better, bool IsWithin, string Text)
{
    /// <summary>
    /// Greatest force per metre of bend radius, N/m: 300 lbf per foot, the strictest figure found (guides by an ICEA
    /// study). A European maker's guide permits 29,200 N/m for power cables.
    /// </summary>
    public const double StrictSidewallNewtonsPerMetre = 4378;

    /// <summary>Greatest force per metre of bend radius by that European guide, N/m.</summary>
    public const double EuropeanSidewallNewtonsPerMetre = 29_200;

    /// <summary>The greatest pull on the cable.</summary>
    public required PullLimit Limit { get; init; }

    /// <summary>The greatest sidewall force that was held against, N/m.</summary>
    public required double MostSidewallNewtonsPerMetre { get; init; }

    /// <summary>Works a pull out in both directions.</summary>
    /// <param name="route">
    /// The stretches in recorded order, each a straight that may end in a bend; 1 to 1,000.
    /// </param>
    /// <param name="cable">The cables pulled together.</param>
    /// <param name="friction">Coefficient of friction; above 0 to 2.</param>
    /// <param name="startNewtons">Force that holds the cable back where it is fed in, N; 0 to 100,000.</param>
    /// <param name="mostSidewallNewtonsPerMetre">Greatest sidewall force, N/m; above 0 to 1,000,000.</param>
    public static Outcome<DuctPullPlan> Of(
        IReadOnlyList<DuctStretch>? route, PulledCable? cable, double friction = DuctPull.DefaultFriction,
        double startNewtons = 0, double mostSidewallNewtonsPerMetre = StrictSidewallNewtonsPerMetre)
    {
        var limit = PullLimit.Of(cable);
        if (limit.Value is null || cable is null) return new Outcome<DuctPullPlan>(null, limit.Refusal);
        var refusal = DuctPull.Obstacle(
            route, cable.KilogramsPerMetre, "cable.kilogramsPerMetre", friction, startNewtons);
        if (refusal is not null || route is null) return new Outcome<DuctPullPlan>(null, refusal);
        if (!(mostSidewallNewtonsPerMetre is > 0 and <= 1e6))
            return Outcome<DuctPullPlan>.Refused(nameof(mostSidewallNewtonsPerMetre), "above 0 to 1000000 N/m");
        var onward = DuctPull.Work(route, cable.KilogramsPerMetre, limit.Value.Newtons, friction, startNewtons);
        var back = DuctPull.Work(Reversed(route), cable.KilogramsPerMetre, limit.Value.Newtons, friction, startNewtons);
        return onward is null || back is null
            ? Outcome<DuctPullPlan>.Refused(nameof(route), DuctPull.Workable)
            : Outcome<DuctPullPlan>.Of(Choose(onward, back, limit.Value, mostSidewallNewtonsPerMetre));
    }

    /// <summary>The route as the cable passes it the other way: every bend comes before its straight.</summary>
    internal static List<DuctStretch> Reversed(IReadOnlyList<DuctStretch> route)
    {
        var reversed = new List<DuctStretch>(2 * route.Count);
        for (var i = route.Count - 1; i >= 0; i--)
        {
            if (route[i].BendDegrees > 0) reversed.Add(route[i] with { LengthMetres = 0 });
            reversed.Add(new DuctStretch(route[i].LengthMetres));
        }

        return reversed;
    }

    private static DuctPullPlan Choose(
        DuctPullResult onward, DuctPullResult back, PullLimit limit, double mostSidewall)
    {
        var alike = Math.Abs(onward.ForceNewtons - back.ForceNewtons) <= 0.01 * onward.ForceNewtons;
        var better = alike ? PullFrom.Either
            : onward.ForceNewtons < back.ForceNewtons ? PullFrom.RouteEnd
            : PullFrom.RouteBeginning;
        var pull = better == PullFrom.RouteBeginning ? back : onward;
        // Of two alike the one that presses less on the bends is looked at.
        if (alike && back.SidewallNewtonsPerMetre < onward.SidewallNewtonsPerMetre) pull = back;
        var within = pull.ForceNewtons <= limit.Newtons && pull.SidewallNewtonsPerMetre <= mostSidewall
            && pull.BendsDegrees <= DuctPull.MostBendsDegrees;
        return new DuctPullPlan(onward, back, better, within, Say(better, onward, back, pull, limit, mostSidewall))
        {
            Limit = limit,
            MostSidewallNewtonsPerMetre = mostSidewall,
        };
    }

    private static string Say(
        PullFrom better, DuctPullResult onward, DuctPullResult back, DuctPullResult pull, PullLimit limit,
        double mostSidewall)
    {
        var text = better switch
        {
            PullFrom.RouteEnd => $"Pull from the end of the route: {Newtons(onward)} instead of {Newtons(back)}.",
            PullFrom.RouteBeginning =>
                $"Pull from the beginning of the route: {Newtons(back)} instead of {Newtons(onward)}.",
            _ => $"Either end takes about {Newtons(onward)}.",
        };
        if (pull.ForceNewtons > limit.Newtons)
            text += $" That is more than the {Plain.Figure(limit.Newtons)} N that the cable may be pulled with.";
        if (pull.SidewallNewtonsPerMetre > mostSidewall)
        {
            text += $" A bend would press the cable with {Plain.Figure(pull.SidewallNewtonsPerMetre)} N/m; "
                + $"{Plain.Figure(mostSidewall)} N/m is the most.";
        }

        return pull.BendsDegrees > DuctPull.MostBendsDegrees
            ? text + $" The bends make {Plain.Figure(pull.BendsDegrees)}° together: put a pulling point between them."
            : text;
    }

    private static string Newtons(DuctPullResult pull) => $"{Plain.Figure(pull.ForceNewtons)} N";
}
