using FleetLight.Contracts.Wire;

namespace FleetLight.Record.Files;

/// <summary>
/// The order in which facts happened: corrected time, then source, then running number, then id. It is total, so the
/// order of arrival can never show in a state.
/// </summary>
public sealed class FactOrder : IComparer<RecordedFact>
{
    /// <summary>The one instance.</summary>
    public static FactOrder Instance { get; } = new();

    /// <inheritdoc/>
    public int Compare(RecordedFact? x, RecordedFact? y)
    {
        if (ReferenceEquals(x, y)) return 0;
        if (x is null) return -1;
        if (y is null) return 1;
        var byTime = x.Of.HappenedAt.UtcTicks.CompareTo(y.Of.HappenedAt.UtcTicks);
        if (byTime != 0) return byTime;
        var bySource = string.CompareOrdinal(x.Of.Source, y.Of.Source);
        if (bySource != 0) return bySource;
        var byNumber = x.Of.RunningNumber.CompareTo(y.Of.RunningNumber);
        return byNumber != 0 ? byNumber : string.CompareOrdinal(x.Of.Id, y.Of.Id);
    }
}
