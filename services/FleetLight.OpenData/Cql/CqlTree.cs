using NetTopologySuite.Geometries;

namespace FleetLight.OpenData.Cql;

/// <summary>A filter, or a part of one, that is true, false or unknown of a feature.</summary>
public abstract record CqlTest(CqlPlace Place);

/// <summary>Both.</summary>
public sealed record CqlAnd(CqlTest Left, CqlTest Right, CqlPlace Place) : CqlTest(Place);

/// <summary>Either, or both.</summary>
public sealed record CqlOr(CqlTest Left, CqlTest Right, CqlPlace Place) : CqlTest(Place);

/// <summary>Not.</summary>
public sealed record CqlNot(CqlTest Of, CqlPlace Place) : CqlTest(Place);

/// <summary>True or false as written.</summary>
public sealed record CqlConstant(bool Value, CqlPlace Place) : CqlTest(Place);

/// <summary>A property of true or false, by itself.</summary>
public sealed record CqlFlag(CqlProperty Property, CqlPlace Place) : CqlTest(Place);

/// <summary>How two values are compared.</summary>
public enum CqlComparison
{
    /// <summary>Equal.</summary>
    Equal,

    /// <summary>Not equal.</summary>
    NotEqual,

    /// <summary>Less.</summary>
    Less,

    /// <summary>Less or equal.</summary>
    LessOrEqual,

    /// <summary>Greater.</summary>
    Greater,

    /// <summary>Greater or equal.</summary>
    GreaterOrEqual,
}

/// <summary>Compares two values.</summary>
public sealed record CqlCompare(CqlValue Left, CqlComparison How, CqlValue Right, CqlPlace Place) : CqlTest(Place);

/// <summary>From one value to another, both included.</summary>
public sealed record CqlBetween(CqlValue Of, CqlValue Low, CqlValue High, bool Negated, CqlPlace Place) : CqlTest(Place);

/// <summary>One of several values.</summary>
public sealed record CqlIn(CqlValue Of, CqlList<CqlValue> Values, bool Negated, CqlPlace Place) : CqlTest(Place);

/// <summary>A text like a pattern: '%' stands for any letters, '_' for one, and '\' takes their meaning away.</summary>
public sealed record CqlLike(CqlValue Of, string Pattern, bool Negated, CqlPlace Place) : CqlTest(Place);

/// <summary>Not known.</summary>
public sealed record CqlIsNull(CqlValue Of, bool Negated, CqlPlace Place) : CqlTest(Place);

/// <summary>Whether two shapes share a point.</summary>
public sealed record CqlIntersects(CqlShape Left, CqlShape Right, CqlPlace Place) : CqlTest(Place);

/// <summary>How times lie to each other.</summary>
public enum CqlTemporal
{
    /// <summary>After.</summary>
    After,

    /// <summary>Before.</summary>
    Before,

    /// <summary>Within, without the ends.</summary>
    During,

    /// <summary>The same.</summary>
    Equals,

    /// <summary>Having an instant in common.</summary>
    Intersects,
}

/// <summary>Compares times.</summary>
public sealed record CqlTime(CqlTemporal How, CqlValue Left, CqlValue Right, CqlPlace Place) : CqlTest(Place);

/// <summary>What has a value.</summary>
public abstract record CqlValue(CqlPlace Place);

/// <summary>A property of the feature.</summary>
public sealed record CqlProperty(string Name, CqlPlace Place) : CqlValue(Place);

/// <summary>A number.</summary>
public sealed record CqlNumber(double Value, CqlPlace Place) : CqlValue(Place);

/// <summary>A text.</summary>
public sealed record CqlText(string Value, CqlPlace Place) : CqlValue(Place);

/// <summary>True or false.</summary>
public sealed record CqlBoolean(bool Value, CqlPlace Place) : CqlValue(Place);

/// <summary>An instant, in whole milliseconds of UTC.</summary>
public sealed record CqlInstant(DateTimeOffset Value, CqlPlace Place) : CqlValue(Place);

/// <summary>A day of UTC: from its first to its last millisecond.</summary>
public sealed record CqlDate(DateOnly Value, CqlPlace Place) : CqlValue(Place);

/// <summary>From one instant to another; an open end is none.</summary>
public sealed record CqlInterval(DateTimeOffset? From, DateTimeOffset? To, CqlPlace Place) : CqlValue(Place);

/// <summary>What has a shape.</summary>
public abstract record CqlShape(CqlPlace Place);

/// <summary>The shape of the feature.</summary>
public sealed record CqlShapeProperty(string Name, CqlPlace Place) : CqlShape(Place);

/// <summary>A shape as written; its coordinates in the system of the filter.</summary>
public sealed record CqlGeometry(Geometry Value, CqlPlace Place) : CqlShape(Place);

/// <summary>A rectangle as written.</summary>
public sealed record CqlBox(double Left, double Bottom, double Right, double Top, CqlPlace Place) : CqlShape(Place);

/// <summary>A list that equals another with the same members.</summary>
public sealed class CqlList<T>(IReadOnlyList<T> items) : IEquatable<CqlList<T>>
{
    /// <summary>The members.</summary>
    public IReadOnlyList<T> Items { get; } = items;

    /// <inheritdoc/>
    public bool Equals(CqlList<T>? other) => other is not null && Items.SequenceEqual(other.Items);

    /// <inheritdoc/>
    public override bool Equals(object? obj) => Equals(obj as CqlList<T>);

    /// <inheritdoc/>
    public override int GetHashCode() => Items.Aggregate(Items.Count, (hash, item) => HashCode.Combine(hash, item));
}
