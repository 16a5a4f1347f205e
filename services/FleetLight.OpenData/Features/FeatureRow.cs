using NetTopologySuite.Geometries;

namespace FleetLight.OpenData.Features;

/// <summary>A feature as it is kept and shown.</summary>
/// <param name="Id">Its id within the collection; it never changes.</param>
/// <param name="Shape">Its shape in longitude and latitude of WGS 84; none where none was recorded.</param>
/// <param name="Values">The values of the collection's properties, in their order: texts, doubles, longs, flags and instants, or null.</param>
public sealed record FeatureRow(string Id, Geometry? Shape, IReadOnlyList<object?> Values)
{
    /// <summary>The value of a property of the collection.</summary>
    public object? ValueOf(FeatureKind kind, string name)
    {
        for (var i = 0; i < kind.Properties.Count; i++)
        {
            if (kind.Properties[i].Name == name) return Values[i];
        }

        return null;
    }
}
