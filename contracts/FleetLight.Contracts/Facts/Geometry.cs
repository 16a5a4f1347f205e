namespace FleetLight.Contracts.Facts;

/// <summary>A position as a GeoJSON Point (RFC 7946): longitude, latitude in degrees WGS 84, optionally height in metres.</summary>
public sealed record GeoPoint
{
    /// <summary>Always <c>Point</c>.</summary>
    [Text(16)]
    public required string Type { get; init; }

    /// <summary>Longitude −180…180, latitude −90…90 in degrees WGS 84, optionally height above the ellipsoid in metres.</summary>
    [List(2, 3)]
    public required double[] Coordinates { get; init; }

    /// <summary>
    /// How well it is known: radius of the circle around it that holds the true place with a probability of 95 %, m, 0.001 to 100,000. It
    /// is what W3C Geolocation calls accuracy.
    /// </summary>
    [Quantity("m", 0.001, 100000)]
    public double? AccuracyMetres { get; init; }

    /// <summary>How it was found.</summary>
    public PositionMethod? Method { get; init; }
}

/// <summary>A route as a GeoJSON LineString (RFC 7946), from the near end to the far end.</summary>
public sealed record GeoLine
{
    /// <summary>Always <c>LineString</c>.</summary>
    [Text(16)]
    public required string Type { get; init; }

    /// <summary>2 to 1,000 positions: longitude, latitude in degrees WGS 84, optionally height in metres.</summary>
    [List(2, 1000)]
    public required double[][] Coordinates { get; init; }

    /// <summary>How well each of its positions is known: radius of the circle that holds the true place with 95 %, m, 0.001 to 100,000.</summary>
    [Quantity("m", 0.001, 100000)]
    public double? AccuracyMetres { get; init; }

    /// <summary>How its positions were found.</summary>
    public PositionMethod? Method { get; init; }
}
