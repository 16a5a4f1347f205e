namespace FleetLight.Labels.Sheets;

/// <summary>What labels are printed on.</summary>
public enum Paper
{
    /// <summary>Sheets of 210 mm by 297 mm (ISO 216).</summary>
    A4,

    /// <summary>Sheets of 8.5 inches by 11 inches.</summary>
    Letter,

    /// <summary>Tape: each label a page of its own size.</summary>
    Tape,
}
