namespace FleetLight.Electrics;

/// <summary>
/// How the sum of independent errors is spread about zero: some parts rectangular, the rest normal.
/// </summary>
/// <remarks>
/// Tolerances and meter accuracies are limits, so rectangular (GUM 4.3.7). A few large ones give a sum without the long
/// tails of a normal quantity. The two largest are convolved exactly with a normal rest, and so is one more that stands
/// for all the smaller ones: it has the same fourth cumulant as they have together. The answer is exact for up to three
/// rectangular parts and any normal ones. For four to twenty equal ones without any normal part, where it is least
/// exact, the half-width is right to 0.4 % at 95, 99 and 99.7 %.
/// </remarks>
internal readonly struct Spread
{
    private const double Root3 = 1.7320508075688772;

    // Narrower parts are as good as normal, and would cost precision in differences of nearly equal terms.
    private const double TooNarrow = 1e-3;

    // Beyond so many standard deviations a normal quantity is never found (probability 1e-33).
    private const double Certain = 12;

    private readonly int parts;
    private readonly double a;
    private readonly double b;
    private readonly double c;
    private readonly double normal;

    /// <param name="combined">Combined standard uncertainty of the sum.</param>
    /// <param name="largest">That of its largest rectangular part.</param>
    /// <param name="second">That of its second largest rectangular part.</param>
    /// <param name="others">Fourth root of the sum of the fourth powers of those of the smaller ones.</param>
    public Spread(double combined, double largest, double second, double others)
    {
        StandardUncertainty = combined > 0 && double.IsFinite(combined) ? combined : 0;
        var left = StandardUncertainty * StandardUncertainty;
        Largest = Take(largest, ref left);
        Second = Take(second, ref left);
        Others = Take(others, ref left);
        var least = TooNarrow * StandardUncertainty;
        Span<double> wide = stackalloc double[3];
        foreach (var part in (ReadOnlySpan<double>)[Largest, Second, Others])
        {
            if (part > least) wide[parts++] = part * Root3;
            else left += part * part;
        }

        (a, b, c) = (wide[0], wide[1], wide[2]);
        normal = Math.Max(Math.Sqrt(left), 1e-6 * StandardUncertainty);
    }

    /// <summary>Combined standard uncertainty.</summary>
    public double StandardUncertainty { get; }

    /// <summary>Standard uncertainty of the largest rectangular part.</summary>
    public double Largest { get; }

    /// <summary>Standard uncertainty of the second largest rectangular part.</summary>
    public double Second { get; }

    /// <summary>Fourth root of the sum of the fourth powers of those of the smaller rectangular parts.</summary>
    public double Others { get; }

    /// <summary>The same with one more independent rectangular part, of that standard uncertainty.</summary>
    public Spread WithRectangular(double part)
    {
        var (largest, second, least) = part > Largest ? (part, Largest, Second)
            : part > Second ? (Largest, part, Second)
            : (Largest, Second, part);
        return new Spread(
            Math.Sqrt((StandardUncertainty * StandardUncertainty) + (part * part)),
            largest, second, Math.Sqrt(Math.Sqrt(Fourth(Others) + Fourth(least))));
    }

    /// <summary>The same with one more independent normal part, of that standard uncertainty.</summary>
    public Spread WithNormal(double part) => new(
        Math.Sqrt((StandardUncertainty * StandardUncertainty) + (part * part)), Largest, Second, Others);

    /// <summary>The same shape, so many times as wide.</summary>
    public Spread Widened(double factor) => factor == 1
        ? this
        : new Spread(factor * StandardUncertainty, factor * Largest, factor * Second, factor * Others);

    /// <summary>Probability of an error at or below x.</summary>
    public double Below(double x)
    {
        if (!(StandardUncertainty > 0)) return x >= 0 ? 1 : 0;
        var tail = Tail(-Math.Abs(x)).Below;
        return x > 0 ? 1 - tail : tail;
    }

    /// <summary>Probability of an error beyond ±x.</summary>
    public double Beyond(double x) => 2 * Below(-Math.Abs(x));

    /// <summary>Probability density of an error x; infinite at zero where there is no uncertainty.</summary>
    public double Density(double x)
    {
        if (!(StandardUncertainty > 0)) return x == 0 ? double.PositiveInfinity : 0;
        return Tail(-Math.Abs(x)).Density;
    }

    /// <summary>Half-width of the interval about zero that holds the error with a probability of 0 to below 1.</summary>
    public double Half(double probability)
    {
        if (!(probability > 0) || !(StandardUncertainty > 0)) return 0;
        var beyond = Math.Max(1 - probability, 1e-12);
        var z = -StandardNormal.Quantile(beyond / 2);
        if (parts == 0) return z * StandardUncertainty;
        double low = 0, high = Math.Min(a + b + c + (z * normal), 1.5 * z * StandardUncertainty);
        var x = Math.Clamp(Guess(z), high / 2, high);
        for (var i = 0; i < 60 && high - low > 1e-12 * high; i++)
        {
            var (below, density) = Tail(-x);
            if (2 * below > beyond) low = x;
            else high = x;
            // Newton on the logarithm of the tail, which is nearly straight; halving where it leaves the bracket.
            var step = below > 0 ? Math.Log(2 * below / beyond) * below / density : double.NaN;
            var next = x + step;
            if (!(next > low && next < high)) next = (low + high) / 2;
            // The next step would be some square of this one.
            if (Math.Abs(step) <= 1e-6 * x) return next;
            x = next;
        }

        return (low + high) / 2;
    }

    // Cornish-Fisher: the normal quantile corrected by the fourth cumulant.
    private double Guess(double z)
    {
        var relative = 1 / StandardUncertainty;
        var excess = -1.2 * (Fourth(Largest * relative) + Fourth(Second * relative) + Fourth(Others * relative));
        return StandardUncertainty * (z + (excess / 24 * z * ((z * z) - 3)));
    }

    // The integral of the normal distribution, repeated as often as there are rectangular parts, over the corners of
    // the box that these span. One integration less gives the density.
    private (double Below, double Density) Tail(double x)
    {
        double below = 0, density = 0;
        var corners = 1 << parts;
        for (var corner = 0; corner < corners; corner++)
        {
            var sign = 1;
            var at = x;
            if (parts > 0) Step(a, (corner & 1) != 0, ref at, ref sign);
            if (parts > 1) Step(b, (corner & 2) != 0, ref at, ref sign);
            if (parts > 2) Step(c, (corner & 4) != 0, ref at, ref sign);
            var z = at / normal;
            if (z < -Certain) continue;
            var (whole, slope) = Repeated(z, parts);
            below += sign * whole;
            density += sign * slope;
        }

        var scale = 1.0;
        if (parts > 0) scale *= normal / (2 * a);
        if (parts > 1) scale *= normal / (2 * b);
        if (parts > 2) scale *= normal / (2 * c);
        return (Math.Clamp(below * scale, 0, 0.5), Math.Max(0, density * scale / normal));
    }

    private static void Step(double half, bool down, ref double at, ref int sign)
    {
        at += down ? -half : half;
        if (down) sign = -sign;
    }

    // The cumulative normal integrated 0 to 3 times, and its derivative.
    private static (double Whole, double Slope) Repeated(double z, int times)
    {
        var (below, density) = z < Certain ? StandardNormal.Both(z) : (1, 0);
        if (times == 0) return (below, density);
        var once = (z * below) + density;
        if (times == 1) return (once, below);
        var twice = ((z * once) + below) / 2;
        return times == 2 ? (twice, once) : (((z * twice) + once) / 3, twice);
    }

    // Stored figures may be of any content: a part is never greater than what is left of the whole.
    private static double Take(double part, ref double left)
    {
        if (!(part > 0)) return 0;
        var taken = Math.Min(part, Math.Sqrt(left));
        left = Math.Max(0, left - (taken * taken));
        return taken;
    }

    private static double Fourth(double x) => x * x * x * x;
}
