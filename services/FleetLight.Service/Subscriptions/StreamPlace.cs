using System.Globalization;

namespace FleetLight.Service.Subscriptions;

/// <summary>
/// A place in all that is told to an organisation: the sequence of an event of the store, and behind it the changes of the page that
/// ended there. Sequences outlast every rebuild, so a place means the same for ever.
/// </summary>
/// <param name="Position">Sequence of the event.</param>
/// <param name="Ordinal">-1 at the event itself, else place among the changes of that position.</param>
public readonly record struct StreamPlace(long Position, int Ordinal) : IComparable<StreamPlace>
{
    /// <summary>Before everything.</summary>
    public static StreamPlace Start { get; } = new(0, -1);

    /// <summary>After everything at a position.</summary>
    public static StreamPlace EndOf(long position) => new(position, int.MaxValue);

    /// <summary>Reads a place as it was given out.</summary>
    public static bool TryParse(string? text, out StreamPlace place)
    {
        place = Start;
        if (string.IsNullOrEmpty(text)) return true;
        var parts = text.Split('.');
        if (parts.Length != 3 || parts[0] != "t"
            || !long.TryParse(parts[1], NumberStyles.None, CultureInfo.InvariantCulture, out var position)
            || !long.TryParse(parts[2], NumberStyles.None, CultureInfo.InvariantCulture, out var ordinal) || ordinal > (long)int.MaxValue + 1)
            return false;
        place = new StreamPlace(position, (int)(ordinal - 1));
        return true;
    }

    /// <inheritdoc/>
    public int CompareTo(StreamPlace other) => (Position, Ordinal).CompareTo((other.Position, other.Ordinal));

    /// <inheritdoc/>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"t.{Position}.{(long)Ordinal + 1}");

    /// <summary>Whether the first comes before the second.</summary>
    public static bool operator <(StreamPlace left, StreamPlace right) => left.CompareTo(right) < 0;

    /// <summary>Whether the first comes after the second.</summary>
    public static bool operator >(StreamPlace left, StreamPlace right) => left.CompareTo(right) > 0;

    /// <summary>Whether the first comes before the second or is it.</summary>
    public static bool operator <=(StreamPlace left, StreamPlace right) => left.CompareTo(right) <= 0;

    /// <summary>Whether the first comes after the second or is it.</summary>
    public static bool operator >=(StreamPlace left, StreamPlace right) => left.CompareTo(right) >= 0;
}
