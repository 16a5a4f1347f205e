namespace FleetLight.Contracts.Facts;

/// <summary>The name under which a fact travels (the <c>type</c> of its envelope). It never changes once accepted.</summary>
[AttributeUsage(AttributeTargets.Class)]
public sealed class FactTypeAttribute(string name) : Attribute
{
    /// <summary>For instance <c>fleetlight.duct.laid.v1</c>.</summary>
    public string Name { get; } = name;
}

/// <summary>A number with its unit and the range outside which it is refused as a slip of the keys.</summary>
[AttributeUsage(AttributeTargets.Property)]
public sealed class QuantityAttribute(string unit, double least, double most) : Attribute
{
    /// <summary>Unit symbol (SI or accepted with SI); <c>1</c> for a plain number.</summary>
    public string Unit { get; } = unit;

    /// <summary>Smallest accepted value.</summary>
    public double Least { get; } = least;

    /// <summary>Greatest accepted value.</summary>
    public double Most { get; } = most;
}

/// <summary>An identifier minted by whoever records first: 1 to 64 of letters, digits, <c>. _ : -</c>. It means nothing.</summary>
[AttributeUsage(AttributeTargets.Property)]
public sealed class ThingIdAttribute : Attribute
{
    /// <summary>Pattern of every identifier.</summary>
    public const string Pattern = "^[A-Za-z0-9][A-Za-z0-9._:-]{0,63}$";
}

/// <summary>Text for people, with its greatest length in characters.</summary>
[AttributeUsage(AttributeTargets.Property)]
public sealed class TextAttribute(int most) : Attribute
{
    /// <summary>Greatest number of UTF-16 code units.</summary>
    public int Most { get; } = most;
}

/// <summary>The form that a text has besides its length.</summary>
[AttributeUsage(AttributeTargets.Property)]
public sealed class FormAttribute(string pattern, string says) : Attribute
{
    /// <summary>Regular expression that the whole text matches.</summary>
    public string Pattern { get; } = pattern;

    /// <summary>The form in words, for whoever sent something else.</summary>
    public string Says { get; } = says;
}

/// <summary>A list, with the number of its members that is accepted.</summary>
[AttributeUsage(AttributeTargets.Property)]
public sealed class ListAttribute(int least, int most) : Attribute
{
    /// <summary>Smallest number of members.</summary>
    public int Least { get; } = least;

    /// <summary>Greatest number of members.</summary>
    public int Most { get; } = most;
}
