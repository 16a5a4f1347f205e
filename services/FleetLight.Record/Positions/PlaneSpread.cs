using FleetLight.Contracts.Views;

namespace FleetLight.Record.Positions;

/// <summary>Covariance of a point of a plane, m².</summary>
/// <param name="XX">Variance of X, m².</param>
/// <param name="XY">Covariance of X and Y, m².</param>
/// <param name="YY">Variance of Y, m².</param>
public readonly record struct PlaneSpread(double XX, double XY, double YY)
{
    /// <summary>The same in every direction, as a 95 % radius says, m.</summary>
    public static PlaneSpread OfRadius(double metres)
    {
        var deviation = metres / Confidence.Circle;
        return new(deviation * deviation, 0, deviation * deviation);
    }

    /// <summary>The spread of the sum of two independent ones.</summary>
    public PlaneSpread Plus(PlaneSpread other) => new(XX + other.XX, XY + other.XY, YY + other.YY);

    /// <summary>Square of the distance in units of this spread, no unit (Mahalanobis); infinite where there is no spread.</summary>
    public double SquareOf(double x, double y)
    {
        var determinant = (XX * YY) - (XY * XY);
        return determinant <= 0 ? double.PositiveInfinity : ((YY * x * x) - (2 * XY * x * y) + (XX * y * y)) / determinant;
    }

    /// <summary>
    /// The 95 % error ellipse: 2.4477 standard deviations along the principal axes, where the bearing t of the longer one from Y clockwise
    /// is given by tan 2t = 2 XY / (YY − XX).
    /// </summary>
    public ErrorEllipseView Ellipse()
    {
        var middle = (XX + YY) / 2;
        var half = Math.Sqrt(((XX - YY) * (XX - YY) / 4) + (XY * XY));
        var bearing = Math.Atan2(2 * XY, YY - XX) / 2 * 180 / Math.PI;
        if (bearing < 0) bearing += 180;
        // A hair below 0 becomes 180, which is 0.
        var rounded = Math.Round(bearing, 1);
        return new ErrorEllipseView
        {
            SemiMajorMetres = Math.Round(Confidence.Circle * Math.Sqrt(Math.Max(0, middle + half)), 3),
            SemiMinorMetres = Math.Round(Confidence.Circle * Math.Sqrt(Math.Max(0, middle - half)), 3),
            BearingDegrees = rounded >= 180 ? 0 : rounded,
        };
    }
}
