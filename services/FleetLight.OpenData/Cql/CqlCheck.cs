using FleetLight.OpenData.Features;

namespace FleetLight.OpenData.Cql;

/// <summary>Looks whether a filter can be asked of a collection: its properties are there, and values of one kind are compared.</summary>
public static class CqlCheck
{
    private enum Kind
    {
        Text,
        Number,
        Flag,
        Time,
    }

    /// <summary>What is wrong; none where nothing is.</summary>
    public static CqlFault? Check(CqlTest test, FeatureKind of)
    {
        try
        {
            Test(test, of);
            return null;
        }
        catch (CqlException wrong)
        {
            return wrong.Fault;
        }
    }

    private static void Test(CqlTest test, FeatureKind of)
    {
        switch (test)
        {
            case CqlAnd and:
                Test(and.Left, of);
                Test(and.Right, of);
                break;
            case CqlOr or:
                Test(or.Left, of);
                Test(or.Right, of);
                break;
            case CqlNot not:
                Test(not.Of, of);
                break;
            case CqlFlag flag:
                Same(Kind.Flag, flag.Property, of);
                break;
            case CqlCompare compare:
                var kind = KindOf(compare.Left, of);
                Same(kind, compare.Right, of);
                if (kind == Kind.Flag && compare.How is not (CqlComparison.Equal or CqlComparison.NotEqual))
                    throw new CqlException("True and false have no order", compare.Place.Offset);
                break;
            case CqlBetween between:
                var ordered = KindOf(between.Of, of);
                if (ordered == Kind.Flag) throw new CqlException("True and false have no order", between.Place.Offset);
                Same(ordered, between.Low, of);
                Same(ordered, between.High, of);
                break;
            case CqlIn among:
                var member = KindOf(among.Of, of);
                foreach (var value in among.Values.Items) Same(member, value, of);
                break;
            case CqlLike like:
                Same(Kind.Text, like.Of, of);
                break;
            case CqlIsNull isNull:
                // The shape may be looked for as well.
                if (isNull.Of is not CqlProperty { Name: FeatureKind.ShapeName }) KindOf(isNull.Of, of);
                break;
            case CqlIntersects intersects:
                Shape(intersects.Left);
                Shape(intersects.Right);
                break;
            case CqlTime time:
                Time(time, time.Left, of);
                Time(time, time.Right, of);
                break;
        }
    }

    private static void Time(CqlTime time, CqlValue value, FeatureKind of)
    {
        if (value is CqlInterval)
        {
            if (time.How is CqlTemporal.Equals) throw new CqlException("T_EQUALS compares instants and days", value.Place.Offset);
            return;
        }

        Same(Kind.Time, value, of);
        if (time.How == CqlTemporal.During && ReferenceEquals(value, time.Right))
            throw new CqlException("T_DURING wants an INTERVAL behind its comma", value.Place.Offset);
    }

    private static void Shape(CqlShape shape)
    {
        switch (shape)
        {
            case CqlShapeProperty { Name: not FeatureKind.ShapeName } other:
                throw new CqlException($"The shape of a feature is called '{FeatureKind.ShapeName}', not '{other.Name}'", other.Place.Offset);
            case CqlBox box when box.Left > box.Right || box.Bottom > box.Top:
                throw new CqlException("BBOX is least x, least y, greatest x, greatest y", box.Place.Offset);
        }
    }

    private static void Same(Kind wanted, CqlValue value, FeatureKind of)
    {
        if (KindOf(value, of) != wanted)
        {
            var word = wanted switch { Kind.Text => "a text in single quotes", Kind.Number => "a number", Kind.Flag => "TRUE or FALSE", _ => "TIMESTAMP('…') or DATE('…')" };
            throw new CqlException($"It is compared with {word}, and this is none", value.Place.Offset);
        }
    }

    private static Kind KindOf(CqlValue value, FeatureKind of)
    {
        switch (value)
        {
            case CqlText: return Kind.Text;
            case CqlNumber: return Kind.Number;
            case CqlBoolean: return Kind.Flag;
            case CqlInstant or CqlDate: return Kind.Time;
            case CqlProperty property:
                return of.Find(property.Name) is { } known
                    ? known.Kind switch
                    {
                        ValueKind.Text => Kind.Text,
                        ValueKind.Number or ValueKind.Whole => Kind.Number,
                        ValueKind.Flag => Kind.Flag,
                        _ => Kind.Time,
                    }
                    : throw new CqlException($"The collection {of.Id} has no property '{property.Name}'", property.Place.Offset);
            default:
                throw new CqlException("An interval is taken by T_AFTER, T_BEFORE, T_DURING and T_INTERSECTS only", value.Place.Offset);
        }
    }
}
