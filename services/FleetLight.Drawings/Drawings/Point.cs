namespace FleetLight.PageParts.Drawings;

/// <summary>A point of a drawing, CSS pixels from its left top.</summary>
/// <param name="X">To the right.</param>
/// <param name="Y">Downwards.</param>
public readonly record struct Point(double X, double Y);
