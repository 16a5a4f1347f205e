namespace FleetLight.Electrics;

/// <summary>
/// Independent rectangular contributions to one quantity: their variance, and what shapes the coverage interval.
/// </summary>
internal struct RectangularSum
{
    /// <summary>Variance of all together.</summary>
    public double Variance { get; private set; }

    /// <summary>Standard uncertainty of the largest one.</summary>
    public double Largest { get; private set; }

    /// <summary>That of the second largest one.</summary>
    public double Second { get; private set; }

    /// <summary>Sum of the fourth powers of those of all the others.</summary>
    public double FourthPowers { get; private set; }

    /// <summary>Adds one by its standard uncertainty.</summary>
    public void Add(double standardUncertainty)
    {
        Variance += standardUncertainty * standardUncertainty;
        Shape(Math.Abs(standardUncertainty));
    }

    /// <summary>Adds all of another sum.</summary>
    public void Add(in RectangularSum other)
    {
        Variance += other.Variance;
        FourthPowers += other.FourthPowers;
        Shape(other.Largest);
        Shape(other.Second);
    }

    private void Shape(double part)
    {
        if (part > Largest) (part, Largest) = (Largest, part);
        if (part > Second) (part, Second) = (Second, part);
        FourthPowers += part * part * part * part;
    }
}
