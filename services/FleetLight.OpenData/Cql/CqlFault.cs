namespace FleetLight.OpenData.Cql;

/// <summary>What is wrong with a filter, and where in its text.</summary>
/// <param name="Says">What is wrong.</param>
/// <param name="At">Place in the text, in UTF-16 code units from 0.</param>
public sealed record CqlFault(string Says, int At);

/// <summary>Ends the reading of a filter that cannot be read; it never leaves this folder.</summary>
internal sealed class CqlException(string says, int at) : Exception(says)
{
    public CqlFault Fault { get; } = new(says, at);
}

/// <summary>Where a part of a filter stands in its text. It takes no part in comparing: the same filter may be written in many ways.</summary>
/// <param name="Offset">UTF-16 code units from the beginning of the text.</param>
public readonly record struct CqlPlace(int Offset)
{
    /// <summary>Always.</summary>
    public bool Equals(CqlPlace other) => true;

    /// <summary>The same for all.</summary>
    public override int GetHashCode() => 0;
}
