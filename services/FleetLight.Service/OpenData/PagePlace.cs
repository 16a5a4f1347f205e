namespace FleetLight.Service.OpenData;

/// <summary>Where a page of features begins or ends. Every place is just behind a key, so pages can be turned both ways while features come and go.</summary>
/// <param name="Key">The key; empty for the beginning.</param>
/// <param name="IsEnd">Whether the page ends with that key; else it begins behind it.</param>
public sealed record PagePlace(string Key, bool IsEnd)
{
    // No id holds a control character.
    private const char End = '\u0001';

    /// <summary>The page behind a key.</summary>
    public static PagePlace After(string key) => new(key, false);

    /// <summary>The page that ends with a key.</summary>
    public static PagePlace Until(string key) => new(key, true);

    /// <summary>Whether it is the first page.</summary>
    public bool IsFirst => !IsEnd && Key.Length == 0;

    /// <summary>That of a cursor's text.</summary>
    public static PagePlace Read(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return text.StartsWith(End) ? Until(text[1..]) : After(text);
    }

    /// <summary>The text of its cursor.</summary>
    public override string ToString() => IsEnd ? End + Key : Key;
}
