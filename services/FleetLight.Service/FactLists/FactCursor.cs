using System.Globalization;

namespace FleetLight.Service.FactLists;

/// <summary>The order in which facts are listed.</summary>
public enum FactListOrder
{
    /// <summary>By when they happened, corrected.</summary>
    Happened,

    /// <summary>By when they came into the list: what whoever follows it goes by.</summary>
    Recorded,
}

/// <summary>A place in a list of facts.</summary>
/// <param name="Order">The order.</param>
/// <param name="Edition">Which edition of the lists it is of: a rebuild makes another, with places of its own.</param>
/// <param name="Place">Sequence of the newest event behind the row, or the time in microseconds since 1970.</param>
/// <param name="EventId">The fact at that place.</param>
public readonly record struct FactCursor(FactListOrder Order, uint Edition, long Place, Guid EventId)
{
    /// <summary>Before everything.</summary>
    public static FactCursor Start(FactListOrder order, uint edition) => new(order, edition, long.MinValue, Guid.Empty);

    /// <summary>Reads a cursor of that order as it was given out; none where none was given.</summary>
    public static bool TryParse(string? text, FactListOrder order, out FactCursor? cursor)
    {
        cursor = null;
        if (string.IsNullOrEmpty(text)) return true;
        var parts = text.Split('_');
        if (parts.Length != 4 || parts[0] != Letter(order)
            || !uint.TryParse(parts[1], NumberStyles.None, CultureInfo.InvariantCulture, out var edition)
            || !long.TryParse(parts[2], NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var place)
            || !Guid.TryParseExact(parts[3], "N", out var id))
            return false;
        cursor = new FactCursor(order, edition, place, id);
        return true;
    }

    /// <inheritdoc/>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Letter(Order)}_{Edition}_{Place}_{EventId:N}");

    private static string Letter(FactListOrder order) => order == FactListOrder.Happened ? "h" : "r";
}
