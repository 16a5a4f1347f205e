using FleetLight.Contracts;

namespace FleetLight.PageParts.Designing;

/// <summary>What is written into a field of a design.</summary>
public enum FieldKind
{
    /// <summary>Text, or an id.</summary>
    Text,

    /// <summary>A number.</summary>
    Number,

    /// <summary>One of a few words.</summary>
    Choice,

    /// <summary>Yes or no.</summary>
    YesOrNo,
}

/// <summary>One of the words of a field.</summary>
/// <param name="Value">The word as the contract writes it.</param>
/// <param name="Says">The word for people.</param>
public sealed record FieldChoice(string Value, string Says);

/// <summary>A field of a design: of its driver, of a fitting or of a run.</summary>
/// <param name="Member">The member of the design that it fills, for instance <c>tail.lengthMetres</c>.</param>
/// <param name="Label">What people call it.</param>
/// <param name="Unit">The unit of its number.</param>
/// <param name="Kind">What is written into it.</param>
public sealed record SheetField(string Member, string Label, string? Unit = null, FieldKind Kind = FieldKind.Text)
{
    /// <summary>Whether it has to be filled in.</summary>
    public bool IsNeeded { get; init; }

    /// <summary>The drive for which it has a meaning; none where it has for both.</summary>
    public DriveKind? OnlyFor { get; init; }

    /// <summary>The words to choose from.</summary>
    public IReadOnlyList<FieldChoice> Choices { get; init; } = [];

    /// <summary>What counts where it is left empty.</summary>
    public string? WhereEmpty { get; init; }

    /// <summary>Whether the field is one of the many that are seldom filled in.</summary>
    public bool IsSeldom { get; init; }

    /// <summary>The label with its unit.</summary>
    public string Title => Unit is null ? Label : $"{Label}, {Unit}";
}
