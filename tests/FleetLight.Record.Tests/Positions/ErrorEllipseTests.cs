using FleetLight.Electrics;
using FleetLight.Record.Positions;

namespace FleetLight.Record.Tests.Positions;

public sealed class ErrorEllipseTests
{
    // C. D. Ghilani, P. R. Wolf, Adjustment Computations, chapter on error ellipses, its worked example: So = 0.136 ft and
    // Q = (1.198574, -1.160249; -1.160249, 2.099070) give t = 145°36', Su = 0.2313 ft, Sv = 0.0865 ft (figures from memory). Bearing from Y.
    [Fact]
    public void It_is_that_of_a_published_example()
    {
        const double square = 0.136 * 0.136;
        var ellipse = new PlaneSpread(1.198574 * square, -1.160249 * square, 2.099070 * square).Ellipse();

        Assert.Equal(145.6, ellipse.BearingDegrees, 0.05);
        Assert.Equal(0.2313, ellipse.SemiMajorMetres / Confidence.Circle, 0.0005);
        Assert.Equal(0.0865, ellipse.SemiMinorMetres / Confidence.Circle, 0.0005);
    }

    // Tables of chi-square (NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.4): upper critical values.
    [Theory]
    [InlineData(1, 0.05, 3.841)]
    [InlineData(2, 0.05, 5.991)]
    [InlineData(3, 0.05, 7.815)]
    [InlineData(4, 0.05, 9.488)]
    [InlineData(1, 0.001, 10.828)]
    [InlineData(2, 0.001, 13.816)]
    [InlineData(3, 0.001, 16.266)]
    [InlineData(10, 0.001, 29.588)]
    public void The_test_of_misfits_goes_by_the_tables(int freedom, double risk, double critical) =>
        Assert.Equal(risk, ChiSquare.Beyond(critical, freedom), risk * 0.005);

    [Fact]
    public void Its_size_is_that_of_the_tables()
    {
        Assert.Equal(5.991, Confidence.Circle * Confidence.Circle, 0.0005);
        var circle = PlaneSpread.OfRadius(8).Ellipse();
        Assert.Equal((8, 8, 0), (circle.SemiMajorMetres, circle.SemiMinorMetres, circle.BearingDegrees));
    }

    [Theory]
    [InlineData(1, 0, 4, 0)]
    [InlineData(4, 0, 1, 90)]
    [InlineData(2, 1, 2, 45)]
    [InlineData(2, -1, 2, 135)]
    public void Its_bearing_is_clockwise_from_north(double xx, double xy, double yy, double bearing) =>
        Assert.Equal(bearing, new PlaneSpread(xx, xy, yy).Ellipse().BearingDegrees, 0.01);
}
