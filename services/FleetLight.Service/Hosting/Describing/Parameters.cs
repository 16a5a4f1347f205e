using System.Text.Json.Nodes;
using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Service.Alerts;
using FleetLight.Service.FactLists;
using FleetLight.Service.Intake;
using Microsoft.OpenApi;
using Swashbuckle.AspNetCore.SwaggerGen;

namespace FleetLight.Service.Hosting.Describing;

/// <summary>Says what the parameters mean and which words they take. One name means one thing on every path.</summary>
internal sealed class Parameters : IOperationFilter
{
    private static readonly Dictionary<string, string> Meanings = new(StringComparer.Ordinal)
    {
        ["after"] = "Cursor of the last change seen; the feed's beginning where absent, its end for 'now'.",
        ["asOf"] = "The state as it was at this time: what had happened by then (RFC 3339).",
        ["circuit"] = "Only what touches this circuit.",
        ["cursor"] = "Where the page starts: the cursor that the page before gave out.",
        ["date"] = "The day (ISO 8601, for instance 2026-05-04); today where absent.",
        ["delivery"] = "The delivery.",
        ["happenedFrom"] = "Only what happened at this time or later (RFC 3339).",
        ["happenedTo"] = "Only what happened before this time (RFC 3339).",
        ["id"] = "Its id.",
        ["kind"] = "Kind of the thing that 'thing' names.",
        ["knownBy"] = "Only what was known by this time (RFC 3339).",
        ["limit"] = $"Most members of the page (a count), 1 to {Paging.Most}; {Paging.Usual} where absent.",
        ["offsetMinutes"] = "How far the day's clock is ahead of UTC, min, -840 to 840; 0 where absent.",
        ["order"] = "By when it happened, or by when it was recorded; 'happened' where absent.",
        ["phase"] = "Only circuits that reached this phase and no further.",
        ["q"] = "Only those in whose id or name (of sites: place too) this text stands; small and capital letters are the same.",
        ["raisedAfter"] = "Only alerts that were last raised at this time or later (RFC 3339).",
        ["raisedBefore"] = "Only alerts that were last raised before this time (RFC 3339).",
        ["rule"] = "Only what this rule finds; GET /v1/rules lists the rules.",
        ["severity"] = "Only alerts of this severity; of sites, only those with such an alert that stands.",
        ["silentDays"] = "Only devices of which nothing was heard for so long, d, 0 to 3650.",
        ["site"] = "Only what belongs to this site.",
        ["source"] = "The device, percent-encoded: its slashes are '%2F'.",
        ["standing"] = "Only alerts that stand so; those that are not cleared where absent.",
        ["state"] = "Only those in this state.",
        ["thing"] = "Only the history of the thing with this id, of the kind that 'kind' names.",
        ["type"] = "Only facts of this type, with its version.",
        ["verdict"] = "Only circuits with this verdict; of sites, only those with such a circuit.",
    };

    public void Apply(OpenApiOperation operation, OperationFilterContext context)
    {
        foreach (var parameter in (operation.Parameters ?? []).OfType<OpenApiParameter>())
        {
            // A parameter without a meaning here is left without a description, which a test of the document refuses.
            parameter.Description ??= Meanings.GetValueOrDefault(parameter.Name!);
            if (parameter.Schema is not OpenApiSchema schema) continue;
            if (Words(parameter.Name!, context.ApiDescription.RelativePath!) is { Length: > 0 } words)
                schema.Enum = [.. words.Select(word => (JsonNode)JsonValue.Create(word))];
            if (parameter.Name == "limit") (schema.Minimum, schema.Maximum) = ("1", $"{Paging.Most}");
            if (parameter.Name is "asOf" or "knownBy" or "happenedFrom" or "happenedTo" or "raisedAfter" or "raisedBefore") schema.Format = "date-time";
        }
    }

    private static string[] Words(string name, string path) => name switch
    {
        "kind" => All<ThingKind>(),
        "order" => All<FactListOrder>(),
        "phase" => All<CircuitPhase>(),
        "verdict" => All<CircuitVerdict>(),
        "severity" => All<AlertSeverity>(),
        "standing" => [.. All<AlertStanding>(), "any"],
        "state" => path.StartsWith("v1/refused", StringComparison.Ordinal) ? All<RefusedState>() : All<DeliveryState>(),
        _ => [],
    };

    private static string[] All<T>() where T : struct, Enum => [.. Enum.GetValues<T>().Select(Query.Word)];
}
