namespace FleetLight.OpenData.Features;

/// <summary>What shapes a collection has.</summary>
public enum ShapeKind
{
    /// <summary>A point, or none.</summary>
    Point,

    /// <summary>A line, or none.</summary>
    Line,

    /// <summary>Several lines, or none.</summary>
    Lines,

    /// <summary>Several points, or none.</summary>
    Points,
}

/// <summary>A collection of features.</summary>
/// <param name="Id">Its id, as it stands in addresses.</param>
/// <param name="Title">What people call it.</param>
/// <param name="Says">What is in it, and where its shapes come from.</param>
/// <param name="Shape">What shapes its features have.</param>
/// <param name="Time">The property that says when; none where its features have no time.</param>
/// <param name="IsState">Whether it says how things stand (read, judged, alerted) and not only what was built.</param>
/// <param name="Properties">Its properties.</param>
public sealed record FeatureKind(
    string Id, string Title, string Says, ShapeKind Shape, string? Time, bool IsState, IReadOnlyList<FeatureProperty> Properties)
{
    /// <summary>Name under which filters know the shape.</summary>
    public const string ShapeName = "geometry";

    /// <summary>The property of that name; none where there is none.</summary>
    public FeatureProperty? Find(string name) => Properties.FirstOrDefault(property => property.Name == name);
}
