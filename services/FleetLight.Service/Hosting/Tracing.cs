using System.Diagnostics;
using OpenTelemetry.Trace;

namespace FleetLight.Service.Hosting;

/// <summary>
/// The service's own spans. A fact is projected after its request was answered, perhaps on another node, so its trace goes
/// with it: a short mark (W3C Trace Context) is kept beside the fact, and only where its request was traced.
/// </summary>
public static class Tracing
{
    /// <summary>Name of the service's source of spans.</summary>
    public const string SourceName = "FleetLight";

    /// <summary>Attribute with ids of facts, as <c>source#id</c>.</summary>
    public const string FactIds = "fleetlight.fact.ids";

    // A collector cuts longer lists, or throws the span away.
    private const int MostIds = 100;
    private const int MostLinks = 100;

    /// <summary>Where the spans come from.</summary>
    public static ActivitySource Source { get; } = new(SourceName);

    /// <summary>The mark of the present span, where it is recorded; it can be kept and linked to later.</summary>
    public static string? Mark => Activity.Current is { Recorded: true, IdFormat: ActivityIdFormat.W3C } span ? span.Id : null;

    /// <summary>Starts a span that has no parent and is linked to the spans of those marks.</summary>
    public static Activity? StartLinked(string name, ActivityKind kind, IEnumerable<string?> marks)
    {
        if (!Source.HasListeners()) return null;
        var links = new List<ActivityLink>();
        foreach (var mark in marks.OfType<string>().Distinct(StringComparer.Ordinal).Take(MostLinks))
        {
            if (ActivityContext.TryParse(mark, null, isRemote: true, out var context)) links.Add(new ActivityLink(context));
        }

        // Without a parent, whatever runs around it.
        return Source.StartActivity(name, kind, parentContext: default, links: links);
    }

    /// <summary>Names facts on the span: all of them, or the first where there are many.</summary>
    public static Activity? OfFacts(this Activity? span, IEnumerable<string> ids) =>
        span is { IsAllDataRequested: true } ? span.SetTag(FactIds, ids.Take(MostIds).ToArray()) : span;

    /// <summary>Spans are made and sent only where a collector is named by the standard variables.</summary>
    public static void Add(OpenTelemetry.OpenTelemetryBuilder telemetry, IConfiguration configuration)
    {
        if (!IsExported(configuration, "TRACES")) return;
        telemetry.WithTracing(tracing => tracing
            .AddAspNetCoreInstrumentation(options => options.Filter = context => IsWorthATrace(context.Request.Path))
            .AddSource(SourceName)
            .AddSource("Npgsql")
            .AddOtlpExporter());
    }

    /// <summary>Whether the standard variables name a collector for that signal.</summary>
    public static bool IsExported(IConfiguration configuration, string signal) =>
        configuration["OTEL_SDK_DISABLED"] is not "true"
        && (configuration["OTEL_EXPORTER_OTLP_ENDPOINT"] ?? configuration[$"OTEL_EXPORTER_OTLP_{signal}_ENDPOINT"]) is { Length: > 0 };

    private static bool IsWorthATrace(PathString path) => !path.StartsWithSegments("/health") && !path.StartsWithSegments("/metrics");
}
