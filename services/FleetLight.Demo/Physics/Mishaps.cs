namespace FleetLight.Demo.Physics;

/// <summary>Something that changes a circuit for a time.</summary>
/// <param name="From">From when.</param>
/// <param name="Until">Until when.</param>
internal abstract record Mishap(DateTimeOffset From, DateTimeOffset Until)
{
    /// <summary>Whether it is so at that time.</summary>
    public bool IsAt(DateTimeOffset at) => at >= From && at < Until;
}

/// <summary>No current passes a fitting: it is broken, or it is reversed and its diodes stand against the current.</summary>
/// <param name="From">From when.</param>
/// <param name="Until">Until when.</param>
/// <param name="FittingId">The fitting.</param>
internal sealed record NoCurrent(DateTimeOffset From, DateTimeOffset Until, string FittingId) : Mishap(From, Until);

/// <summary>A joint goes bad: its contact resistance doubles again and again.</summary>
/// <param name="From">From when.</param>
/// <param name="Until">Until when.</param>
/// <param name="At">The place at the far end of the run whose joint it is.</param>
/// <param name="FirstOhms">Resistance that it adds at first, Ω.</param>
/// <param name="DoublingDays">Days until that has doubled; infinite where it stays.</param>
internal sealed record BadJoint(DateTimeOffset From, DateTimeOffset Until, string At, double FirstOhms, double DoublingDays)
    : Mishap(From, Until)
{
    /// <summary>Resistance that it adds, Ω.</summary>
    public double OhmsAt(DateTimeOffset at) => FirstOhms * Math.Pow(2, (at - From).TotalDays / DoublingDays);
}

/// <summary>A fitting of another power is in place.</summary>
/// <param name="From">From when.</param>
/// <param name="Until">Until when.</param>
/// <param name="FittingId">The fitting.</param>
/// <param name="Watts">Its power, W.</param>
internal sealed record OtherFitting(DateTimeOffset From, DateTimeOffset Until, string FittingId, double Watts)
    : Mishap(From, Until);
