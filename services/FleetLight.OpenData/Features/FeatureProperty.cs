namespace FleetLight.OpenData.Features;

/// <summary>What kind of value a property has.</summary>
public enum ValueKind
{
    /// <summary>A text.</summary>
    Text,

    /// <summary>A number.</summary>
    Number,

    /// <summary>A whole number.</summary>
    Whole,

    /// <summary>True or false.</summary>
    Flag,

    /// <summary>An instant, in UTC and whole milliseconds.</summary>
    Time,
}

/// <summary>A property of the features of a collection. Every feature of the collection has it; where nothing is known its value is null.</summary>
/// <param name="Name">Its name, with the unit in it.</param>
/// <param name="Kind">What kind of value it has.</param>
/// <param name="Says">What it says.</param>
/// <param name="Unit">Its unit, where it has one.</param>
/// <param name="Words">The words that it takes, where these are a closed list.</param>
public sealed record FeatureProperty(string Name, ValueKind Kind, string Says, string? Unit = null, IReadOnlyList<string>? Words = null);
