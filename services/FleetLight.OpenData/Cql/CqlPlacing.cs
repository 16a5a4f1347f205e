using FleetLight.OpenData.Crs;

namespace FleetLight.OpenData.Cql;

/// <summary>Brings the shapes of a filter from the system that it was written in to longitude and latitude.</summary>
public static class CqlPlacing
{
    /// <summary>The filter in longitude and latitude.</summary>
    /// <param name="test">The filter.</param>
    /// <param name="system">The system of its shapes.</param>
    /// <param name="fault">A shape that has no place on the earth.</param>
    public static CqlTest InDegrees(CqlTest test, CoordinateSystem system, out CqlFault? fault)
    {
        fault = null;
        if (system == CoordinateSystem.Crs84) return test;
        try
        {
            return Of(test, system);
        }
        catch (CqlException wrong)
        {
            fault = wrong.Fault;
            return test;
        }
    }

    private static CqlTest Of(CqlTest test, CoordinateSystem system) => test switch
    {
        CqlAnd and => and with { Left = Of(and.Left, system), Right = Of(and.Right, system) },
        CqlOr or => or with { Left = Of(or.Left, system), Right = Of(or.Right, system) },
        CqlNot not => not with { Of = Of(not.Of, system) },
        CqlIntersects intersects => intersects with { Left = Of(intersects.Left, system), Right = Of(intersects.Right, system) },
        _ => test,
    };

    private static CqlShape Of(CqlShape shape, CoordinateSystem system)
    {
        if (shape is CqlShapeProperty) return shape;
        var moved = shape is CqlBox box ? system.AreaOf(box.Left, box.Bottom, box.Right, box.Top) : system.ToDegrees(((CqlGeometry)shape).Value);
        return new CqlGeometry(moved ?? throw new CqlException("The shape has no place on the earth in its coordinate system", shape.Place.Offset), shape.Place);
    }
}
