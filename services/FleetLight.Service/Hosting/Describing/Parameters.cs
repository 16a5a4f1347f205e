using System.Text.Json.Nodes;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Handover.Pdf;
using FleetLight.Labels.Sheets;
using FleetLight.Service.Alerts;
using FleetLight.Service.Exports;
using FleetLight.Service.FactLists;
using FleetLight.Service.Handover;
using FleetLight.Service.Intake;
using FleetLight.Service.Labels;
using FleetLight.Service.OpenPoints;
using Microsoft.OpenApi;
using Swashbuckle.AspNetCore.SwaggerGen;

namespace FleetLight.Service.Hosting.Describing;

/// <summary>Says what the parameters mean and which words they take. One name means one thing on every path.</summary>
internal sealed class Parameters : IOperationFilter
{
    private static readonly Dictionary<string, string> Meanings = new(StringComparer.Ordinal)
    {
        ["allowancePercent"] = "Cable beyond the length designed, in %, 0 to 100.",
        ["after"] = "Cursor of the last change seen; the feed's beginning where absent, its end for 'now'.",
        ["asOf"] = "The state as it was at this time: what had happened by then (RFC 3339).",
        ["changed"] = "Only changes of these kinds, with commas between: those of things, alert, visit, attachment.",
        ["bbox"] = "Only features whose shape reaches this rectangle: least x, least y, greatest x, greatest y with commas between, in 'bbox-crs'.",
        ["bbox-crs"] = "The coordinate reference system of 'bbox', by its address; longitude and latitude of WGS 84, degrees, where absent.",
        ["circuit"] = "Only what touches this circuit.",
        ["collection"] = "The collection, as /ogc/collections lists it.",
        ["crs"] = "The coordinate reference system of the answer, by its address; longitude and latitude of WGS 84, degrees, where absent.",
        ["boxMonths"] = "From one look into boxes to the next, months, 1 to 240; 12 where absent.",
        ["buttonMonths"] = "From one press of a residual current device's test button to the next, months, 1 to 240; 6 where absent.",
        ["cursor"] = "Where the page starts: the cursor that the page before gave out.",
        ["date"] = "The day (ISO 8601, for instance 2026-05-04); today where absent.",
        ["datetime"] = "Only features of this time: an instant, a day, or two of them with a slash between, '..' for an open end (RFC 3339).",
        ["delivery"] = "The delivery.",
        ["ductMonths"] = "From one look at duct ends to the next, months, 1 to 240; 24 where absent.",
        ["endMetres"] = "Cable left at each of its two ends, in m, 0 to 20.",
        ["fact"] = "The fact, 'source#id', percent-encoded: its slashes are '%2F', the sign between is '%23'.",
        ["first"] = "The smaller size, a number of facts; 0 where absent.",
        ["f"] = "The form of the answer, json or html, in place of the header Accept.",
        ["feature"] = "The feature's id within its collection.",
        ["filter"] = "Only features of which this is true, as CQL2 text, such as: severity = 'serious' AND raisedAt > TIMESTAMP('2026-05-04T00:00:00Z').",
        ["filter-crs"] = "The coordinate reference system of shapes in 'filter', by its address; longitude and latitude where absent.",
        ["filter-lang"] = "The language of 'filter': cql2-text.",
        ["format"] = "The form of the answer.",
        ["gelMillilitres"] = "Gel for each box in the ground, in ml, 0 to 10,000.",
        ["happenedFrom"] = "Only what happened at this time or later (RFC 3339).",
        ["happenedTo"] = "Only what happened before this time (RFC 3339).",
        ["id"] = "Its id.",
        ["kind"] = "Only what belongs to things of this kind; with 'thing', the kind of that thing.",
        ["insulationMonths"] = "From one test of the insulation of buried cables to the next, months, 1 to 240; 36 where absent.",
        ["day"] = "Only visits on this day (YYYY-MM-DD).",
        ["from"] = "Only visits on this day or later (YYYY-MM-DD).",
        ["knownBy"] = "Only what was known by this time (RFC 3339).",
        ["kinds"] = "Kinds of thing with commas between: duct, cable, box, circuit; all of them where absent.",
        ["leadSlackMetres"] = "Lead beyond the distance from a fitting to its box, in m, 0 to 20.",
        ["limit"] = $"Most members of the page (a count), 1 to {Paging.Most}; {Paging.Usual} where absent.",
        ["message"] = "The message, as in webhook-id.",
        ["lookMonths"] = "From one look after dark to the next, months, 1 to 240; 6 where absent.",
        ["mainsMonths"] = "From one inspection of the mains side to the next, months, 1 to 240; 60 where absent, and local rules may ask for less.",
        ["offsetMinutes"] = "How far the day's clock is ahead of UTC, min, -840 to 840; 0 where absent.",
        ["order"] = "By when it happened, or by when it was recorded; 'happened' where absent.",
        ["q"] = "Only those in whose id or name (of sites: place too) this text stands; small and capital letters are the same.",
        ["raisedAfter"] = "Only alerts that were last raised at this time or later (RFC 3339).",
        ["raisedBefore"] = "Only alerts that were last raised before this time (RFC 3339).",
        ["page"] = "Which page of an SVG, a number without a unit, from 1.",
        ["paper"] = "What is printed on: a sheet, or tape with a page for each label.",
        ["phase"] = "Only circuits that reached this phase and no further.",
        ["readMonths"] = "From one reading at the driver to the next, months, 1 to 240; 12 where absent.",
        ["reelMetres"] = "Length of a full reel of cable, in m, 1 to 5,000.",
        ["rule"] = "Only what this rule finds; GET /v1/rules lists the rules.",
        ["rules"] = "Only alerts of these rules, with commas between; GET /v1/rules lists the rules.",
        ["second"] = "The larger size, a number of facts; that of the newest checkpoint where absent.",
        ["severity"] = "Only alerts of this severity; of sites, only those with such an alert that stands.",
        ["sha256"] = "SHA-256 of the bytes, 64 hexadecimal digits in lower case.",
        ["silentDays"] = "Only devices of which nothing was heard for so long, d, 0 to 3650.",
        ["site"] = "Only what belongs to this site.",
        ["sites"] = "Only what belongs to these sites, with commas between: facts that name one, alerts and changes of its things.",
        ["source"] = "The device, percent-encoded: its slashes are '%2F'.",
        ["standing"] = "Only alerts that stand so; those that are not cleared where absent.",
        ["state"] = "Only those in this state.",
        ["tell"] = "What is told, with commas between: facts, alerts, changes; all of them where absent.",
        ["size"] = "The size of a checkpoint, a number of facts; that of the newest where absent.",
        ["table"] = "Which table.",
        ["thing"] = "Only what belongs to the thing of this id, of the kind that 'kind' names.",
        ["to"] = "Only visits on this day or earlier (YYYY-MM-DD).",
        ["type"] = "Only facts of this type, with its version.",
        ["types"] = "Only facts of these types, each with its version, with commas between.",
        ["verdict"] = "Only circuits with this verdict; of sites, only those with such a circuit.",
        ["x"] = "Column of the tile, from 0 in the west.",
        ["y"] = "Row of the tile, from 0 in the north.",
        ["z"] = "Zoom of the tile, 0 to 24.",
        ["stringEndMetres"] = "Draw string beyond each end of a duct, in m, 0 to 20.",
        ["tapeMillimetres"] = "Width of the tape, in mm, 5 to 100; 12 where absent.",
        ["things"] = "Only these things, each as kind:id, with commas between.",
    };

    public void Apply(OpenApiOperation operation, OperationFilterContext context)
    {
        foreach (var parameter in (operation.Parameters ?? []).OfType<OpenApiParameter>())
        {
            // A parameter without a meaning here is left without a description, which a test of the document refuses.
            if (IsOfOpenPoints(context) && parameter.Name == "phase")
                parameter.Description = "Only what should be done by this phase: points of it and of those before it; all where absent.";
            parameter.Description ??= Meanings.GetValueOrDefault(parameter.Name!);
            if (parameter.Schema is not OpenApiSchema schema) continue;
            if (Words(parameter.Name!, context.ApiDescription.RelativePath!) is { Length: > 0 } words)
                schema.Enum = [.. words.Select(word => (JsonNode)JsonValue.Create(word))];
            if (parameter.Name == "limit") (schema.Minimum, schema.Maximum) = ("1", $"{Paging.Most}");
            if (parameter.Name is "asOf" or "knownBy" or "happenedFrom" or "happenedTo" or "raisedAfter" or "raisedBefore") schema.Format = "date-time";
            if (parameter.Name is "day" or "from" or "to") schema.Format = "date";
            if (parameter.Name == "sha256") schema.Pattern = PictureLimits.DigestPattern;
        }
    }

    private static bool IsOfOpenPoints(OperationFilterContext context) =>
        context.ApiDescription.RelativePath!.EndsWith(OpenPointEndpoint.Path, StringComparison.Ordinal);

    private static string[] Words(string name, string path) => name switch
    {
        "phase" => path.EndsWith(OpenPointEndpoint.Path, StringComparison.Ordinal) ? All<WorkPhase>() : All<CircuitPhase>(),
        "format" when path.EndsWith(HandoverEndpoint.Path, StringComparison.Ordinal) => All<HandoverFormat>(),
        "format" => path.EndsWith("/labels", StringComparison.Ordinal) ? All<LabelFormat>() : All<TableFormat>(),
        "paper" when path.EndsWith(HandoverEndpoint.Path, StringComparison.Ordinal) => All<PackPaper>(),
        "paper" => All<Paper>(),
        "kind" => All<ThingKind>(),
        "table" => All<ExportTable>(),
        "order" => All<FactListOrder>(),
        "verdict" => All<CircuitVerdict>(),
        "severity" => All<AlertSeverity>(),
        "standing" => [.. All<AlertStanding>(), "any"],
        "state" when path.StartsWith("v1/refused", StringComparison.Ordinal) => All<RefusedState>(),
        "state" when path.StartsWith("v1/visits", StringComparison.Ordinal) => All<VisitState>(),
        "state" => All<DeliveryState>(),
        _ => [],
    };

    private static string[] All<T>() where T : struct, Enum => [.. Enum.GetValues<T>().Select(Query.Word)];
}
