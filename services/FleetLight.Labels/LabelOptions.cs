namespace FleetLight.Labels;

/// <summary>How labels are made.</summary>
public sealed record LabelOptions
{
    /// <summary>Narrowest and widest tape, mm.</summary>
    public const double LeastTape = 5, MostTape = 100;

    /// <summary>
    /// Least side of a module of a QR code, mm: smaller ones are not read reliably by the camera of a phone, from a label that
    /// was printed with 180 dots an inch (common practice, no source).
    /// </summary>
    public const double LeastModuleMillimetres = 0.25;

    /// <summary>Least height of capitals that can be read at arm's length, mm (common practice, no source).</summary>
    public const double LeastCapMillimetres = 1.5;

    /// <summary>Where the service is reached, for the addresses in the codes.</summary>
    public required string PublicAddress { get; init; }

    /// <summary>Width of the tape, which is the height of the label, mm.</summary>
    public double TapeMillimetres { get; init; } = 12;

    /// <summary>The longest label, mm.</summary>
    public double MostLengthMillimetres { get; init; } = 90;

    /// <summary>What printers leave blank along each edge of the tape, mm (common practice, no source).</summary>
    public double EdgeMillimetres => TapeMillimetres >= 12 ? 1 : 0.5;
}
