using System.Globalization;
using FleetLight.Contracts.Wire;
using FleetLight.OpenData.Cql;
using FleetLight.OpenData.Crs;
using FleetLight.OpenData.Features;
using FleetLight.Service.Hosting;
using Microsoft.Extensions.Primitives;

namespace FleetLight.Service.OpenData;

/// <summary>What a request for features asks.</summary>
/// <param name="Question">Which features.</param>
/// <param name="System">In which coordinate reference system.</param>
/// <param name="Place">Where the page begins or ends.</param>
/// <param name="Limit">Most features of the page.</param>
/// <param name="Selection">What names the question: its parameters as they were sent, in the order of their names.</param>
public sealed record ItemsRequest(FeatureQuestion Question, CoordinateSystem System, PagePlace Place, int Limit, string Selection)
{
    private static readonly string[] Names =
        ["f", "bbox", "bbox-crs", "datetime", "limit", "cursor", "crs", "filter", "filter-lang", "filter-crs"];

    // Of these the number of features does not depend.
    private static readonly string[] OfPages = ["f", "limit", "cursor", "crs"];

    /// <summary>Reads it; every parameter that is not understood is a problem that names it.</summary>
    public static ItemsRequest? Read(FeatureKind kind, IQueryCollection query, out Problem? problem)
    {
        var tests = new List<CqlTest>();
        if (!TryProperties(kind, query, tests, out problem)
            || !TrySystem(query, "crs", out var system, out problem)
            || !TryLimit(query, out var limit, out problem)
            || !Paging.TryRead(query["cursor"], null, out var page, out problem)
            || !TryBox(query, tests, out problem)
            || !TryTime(kind, query, tests, out problem)
            || !TryFilter(kind, query, tests, out problem))
            return null;
        CqlTest? test = null;
        foreach (var each in tests) test = test is null ? each : new CqlAnd(test, each, default);
        return new ItemsRequest(new FeatureQuestion(kind, test), system, PagePlace.Read(page.After), limit, SelectionOf(kind, query));
    }

    private static string SelectionOf(FeatureKind kind, IQueryCollection query) => kind.Id + QueryString.Create(query
        .Where(pair => !OfPages.Contains(pair.Key)).OrderBy(pair => pair.Key, StringComparer.Ordinal)
        .SelectMany(pair => pair.Value, (pair, value) => KeyValuePair.Create(pair.Key, value)));

    /// <summary>A problem where a request has a parameter that its path does not take; none otherwise.</summary>
    public static Problem? Unknown(IQueryCollection query, params ReadOnlySpan<string> taken)
    {
        foreach (var name in query.Keys)
        {
            if (!taken.Contains(name)) return Problems.Parameter(name, "This path takes no such parameter.", $"Taken are: {string.Join(", ", taken)}.");
        }

        return null;
    }

    /// <summary>A coordinate reference system that a parameter names; longitude and latitude where it is absent.</summary>
    public static bool TrySystem(IQueryCollection query, string name, out CoordinateSystem system, out Problem? problem)
    {
        problem = null;
        system = CoordinateSystem.Crs84;
        if (StringValues.IsNullOrEmpty(query[name])) return true;
        if (CoordinateSystem.Find(query[name].ToString()) is { } found)
        {
            system = found;
            return true;
        }

        problem = Problems.Parameter(name, "The coordinate reference system is none that is known here.", "Use one of 'crs' in /ogc/collections, by its address.");
        return false;
    }

    private static bool TryLimit(IQueryCollection query, out int limit, out Problem? problem)
    {
        problem = null;
        limit = Paging.Usual;
        if (StringValues.IsNullOrEmpty(query["limit"])) return true;
        if (long.TryParse(query["limit"], NumberStyles.None, CultureInfo.InvariantCulture, out var asked) && asked > 0)
        {
            // More than is given at once counts as the most (OGC API - Features, part 1).
            limit = (int)Math.Min(asked, Paging.Most);
            return true;
        }

        problem = Problems.Parameter("limit", $"A page holds 1 to {Paging.Most} features.", $"Ask for 1 to {Paging.Most}.");
        return false;
    }

    private static bool TryProperties(FeatureKind kind, IQueryCollection query, List<CqlTest> tests, out Problem? problem)
    {
        problem = null;
        foreach (var (name, values) in query.Where(pair => !Names.Contains(pair.Key)))
        {
            if (kind.Find(name) is not { } property)
            {
                problem = Problems.Parameter(name, "There is no such parameter, and the collection has no such property.",
                    $"Use one of: {string.Join(", ", Names)}; or a property that {OgcLinks.Path}/collections/{kind.Id}/queryables lists.");
                return false;
            }

            foreach (var value in values)
            {
                if (Value(property, value ?? "") is not { } wanted)
                {
                    problem = Problems.Parameter(name, $"The value is none of a property of this kind ({FeatureKinds.Word(property.Kind)}).", "Give one as its schema says.");
                    return false;
                }

                tests.Add(new CqlCompare(new CqlProperty(name, default), CqlComparison.Equal, wanted, default));
            }
        }

        return true;
    }

    private static CqlValue? Value(FeatureProperty property, string text) => property.Kind switch
    {
        ValueKind.Text => new CqlText(text, default),
        ValueKind.Number or ValueKind.Whole => double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var number) && double.IsFinite(number)
            ? new CqlNumber(number, default)
            : null,
        ValueKind.Flag => bool.TryParse(text, out var flag) ? new CqlBoolean(flag, default) : null,
        _ => CqlTimes.TryInstant(text, out var time) ? new CqlInstant(time, default) : null,
    };

    private static bool TryBox(IQueryCollection query, List<CqlTest> tests, out Problem? problem)
    {
        if (!TrySystem(query, "bbox-crs", out var system, out problem)) return false;
        if (StringValues.IsNullOrEmpty(query["bbox"])) return true;
        var numbers = query["bbox"].ToString().Split(',')
            .Select(text => double.TryParse(text.Trim(), NumberStyles.Float, CultureInfo.InvariantCulture, out var number) && double.IsFinite(number) ? number : (double?)null)
            .ToArray();
        // With heights, which are passed over: shapes are in the plane.
        if (numbers.Length == 6) numbers = [numbers[0], numbers[1], numbers[3], numbers[4]];
        if (numbers is not [{ } x1, { } y1, { } x2, { } y2])
        {
            problem = Problems.Parameter("bbox", "A rectangle has four numbers with commas between them, or six with heights.",
                "Give the lower left and the upper right corner, in the order of the axes of 'bbox-crs'.");
            return false;
        }

        if (Area(system, x1, y1, x2, y2) is not { } area)
        {
            problem = Problems.Parameter("bbox", "The rectangle is none in its coordinate reference system.",
                "Give the lower left and the upper right corner, in the order of the axes of 'bbox-crs'.");
            return false;
        }

        tests.Add(new CqlIntersects(new CqlShapeProperty(FeatureKind.ShapeName, default), new CqlGeometry(area, default), default));
        return true;
    }

    private static NetTopologySuite.Geometries.Geometry? Area(CoordinateSystem system, double x1, double y1, double x2, double y2)
    {
        if (!system.IsGeographic) return x1 > x2 || y1 > y2 ? null : system.AreaOf(x1, y1, x2, y2);
        return system.ToDegrees(x1, y1) is { } low && system.ToDegrees(x2, y2) is { } high && low.Latitude <= high.Latitude
            && Math.Abs(low.Longitude) <= 180 && Math.Abs(high.Longitude) <= 180
            ? system.AreaOf(x1, y1, x2, y2)
            : null;
    }

    private static bool TryTime(FeatureKind kind, IQueryCollection query, List<CqlTest> tests, out Problem? problem)
    {
        problem = null;
        if (StringValues.IsNullOrEmpty(query["datetime"])) return true;
        var parts = query["datetime"].ToString().Split('/');
        if (parts.Length > 2 || !TryEnd(parts[0], last: false, out var from) || !TryEnd(parts[^1], last: true, out var to)
            || (parts.Length == 1 && from is null) || (parts.Length == 2 && from is null && to is null) || from > to)
        {
            problem = Problems.Parameter("datetime", "The time cannot be read.",
                "Use an instant (2026-05-04T07:30:00Z), a day, or two of them with a slash between, '..' for an open end.");
            return false;
        }

        // What has no time is not left out by one.
        if (kind.Time is { } property)
            tests.Add(new CqlTime(CqlTemporal.Intersects, new CqlProperty(property, default), new CqlInterval(from, to, default), default));
        return true;

        bool TryEnd(string text, bool last, out DateTimeOffset? time)
        {
            time = null;
            if (parts.Length == 2 && text is "" or "..") return parts.Length == 2;
            if (!CqlTimes.TryInstantOrDay(text, last, out var found)) return false;
            time = found;
            return true;
        }
    }

    private static bool TryFilter(FeatureKind kind, IQueryCollection query, List<CqlTest> tests, out Problem? problem)
    {
        if (!TrySystem(query, "filter-crs", out var system, out problem)) return false;
        if (query["filter-lang"].ToString() is not ("" or "cql2-text"))
        {
            problem = Problems.Parameter("filter-lang", "Filters in this language are not taken.", "Use cql2-text.");
            return false;
        }

        if (StringValues.IsNullOrEmpty(query["filter"])) return true;
        var fault = CqlReader.TryRead(query["filter"].ToString(), out var test, out var wrong) ? CqlCheck.Check(test!, kind) : wrong;
        if (fault is null) test = CqlPlacing.InDegrees(test!, system, out fault);
        if (fault is not null)
        {
            problem = Problems.Parameter("filter", $"{fault.Says} (at character {fault.At + 1}).",
                $"Filters are CQL2 text. {OgcLinks.Path}/collections/{kind.Id}/queryables lists the properties.");
            return false;
        }

        tests.Add(test!);
        return true;
    }
}
