namespace FleetLight.Electrics;

/// <summary>By which published rule the pull on a cable is limited.</summary>
public enum PullRule
{
    /// <summary>50 N per mm² of copper (European cable construction standards).</summary>
    FiftyNewtons,

    /// <summary>0.008 lbf per circular mil of copper, 70.2 N/mm² (guides by an ICEA study).</summary>
    SeventyNewtons,
}

/// <summary>How the rope takes hold of the cable.</summary>
public enum PullGrip
{
    /// <summary>An eye on the conductors.</summary>
    Eye,

    /// <summary>A basket over the sheath.</summary>
    Basket,
}

/// <summary>What holds a cable together besides its conductors.</summary>
public enum PullArmour
{
    /// <summary>Nothing.</summary>
    None,

    /// <summary>Steel wires.</summary>
    SteelWire,

    /// <summary>Steel tape.</summary>
    SteelTape,
}

/// <summary>The cables that are pulled together.</summary>
/// <param name="KilogramsPerMetre">Their mass, kg/m; above 0 to 100.</param>
/// <param name="CopperSquareMillimetres">
/// Sum of the areas of their conductors, without screen and armour, mm²; 0.01 to 10,000.
/// </param>
public sealed record PulledCable(double KilogramsPerMetre, double CopperSquareMillimetres)
{
    /// <summary>The rule for the conductors.</summary>
    public PullRule Rule { get; init; } = PullRule.FiftyNewtons;

    /// <summary>How the rope takes hold.</summary>
    public PullGrip Grip { get; init; } = PullGrip.Eye;

    /// <summary>Its armour; it counts where a basket holds the cable.</summary>
    public PullArmour Armour { get; init; } = PullArmour.None;

    /// <summary>
    /// Outside diameter over the armour, mm; 0.01 to 2,000. Needed for an armoured cable in a basket.
    /// </summary>
    public double? OutsideMillimetres { get; init; }
}

/// <summary>The greatest pull on a cable.</summary>
/// <param name="Newtons">The force, N.</param>
/// <param name="Source">The published rule.</param>
public sealed record PullLimit(double Newtons, string Source)
{
    /// <summary>Greatest pull per copper area by European construction standards, N/mm².</summary>
    public const double European = 50;

    /// <summary>Greatest pull per copper area by American guides: 0.008 lbf per circular mil in N/mm².</summary>
    public const double American = 70.2;

    /// <summary>Greatest pull with a basket by American guides: 1,000 lbf in N.</summary>
    public const double AmericanBasketNewtons = 4448;

    /// <summary>
    /// Greatest pull with a basket on steel-wire armour: this times the outside diameter squared, N/mm².
    /// </summary>
    public const double SteelWireNewtons = 9;

    /// <summary>The same for steel-tape armour, N/mm².</summary>
    public const double SteelTapeNewtons = 3;

    private const string EuropeanSource = "cable construction standards (VDE): 50 N/mm² of copper";
    private const string ArmourSource = "cable construction standards (VDE): basket on armour, by the diameter squared";
    private const string AmericanSource = "ICEA study: 0.008 lbf per circular mil, 70.2 N/mm² of copper";

    /// <summary>The limit for a cable, or the input that stands in its way.</summary>
    /// <remarks>
    /// A basket on an unarmoured cable is limited like an eye by the European rule. The American rule adds 1,000 lbf
    /// for a basket. The maker's own figure, where there is one, goes before either.
    /// </remarks>
    public static Outcome<PullLimit> Of(PulledCable? cable)
    {
        if (cable is null) return Outcome<PullLimit>.Refused("cable", "a cable");
        var copper = cable.CopperSquareMillimetres;
        if (!(copper is >= DuctFill.LeastMillimetres and <= 10_000))
            return Outcome<PullLimit>.Refused("cable.copperSquareMillimetres", "0.01 to 10000 mm²");
        if (cable.Grip == PullGrip.Basket && cable.Armour is PullArmour.SteelWire or PullArmour.SteelTape)
        {
            if (!(cable.OutsideMillimetres is { } outside and >= DuctFill.LeastMillimetres and <= 2000))
                return Outcome<PullLimit>.Refused("cable.outsideMillimetres", "0.01 to 2000 mm");
            var perSquare = cable.Armour == PullArmour.SteelWire ? SteelWireNewtons : SteelTapeNewtons;
            return Outcome<PullLimit>.Of(new PullLimit(perSquare * outside * outside, ArmourSource));
        }

        if (cable.Rule != PullRule.SeventyNewtons)
            return Outcome<PullLimit>.Of(new PullLimit(European * copper, EuropeanSource));
        var newtons = American * copper;
        return Outcome<PullLimit>.Of(cable.Grip == PullGrip.Basket && newtons > AmericanBasketNewtons
            ? new PullLimit(AmericanBasketNewtons, "ICEA study: 1000 lbf with a basket")
            : new PullLimit(newtons, AmericanSource));
    }
}
