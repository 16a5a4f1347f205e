using System.Globalization;
using Serilog;
using Serilog.Events;
using Serilog.Formatting.Compact;

namespace FleetLight.Service.Hosting;

/// <summary>
/// How log lines are written. Every line of a fact's way carries <c>FactIds</c>, and from the alert on <c>AlertId</c>, so that
/// one search follows a fact from its batch to the delivery of the alert that it caused.
/// </summary>
public static class ServiceLog
{
    /// <summary>Setting that asks for a JSON object a line, with all properties, instead of plain text.</summary>
    public const string FormSetting = "FLEETLIGHT_LOG_FORM";

    // A line of that many ids stays below the 16 KiB at which container engines cut lines.
    private const int MostIds = 150;

    /// <summary>Sets the levels and the form.</summary>
    public static LoggerConfiguration Configure(LoggerConfiguration log, IConfiguration settings)
    {
        log.MinimumLevel.Information()
            .MinimumLevel.Override("Microsoft", LogEventLevel.Warning)
            .MinimumLevel.Override("Microsoft.Hosting.Lifetime", LogEventLevel.Information)
            .MinimumLevel.Override("Marten", LogEventLevel.Warning)
            .MinimumLevel.Override("JasperFx", LogEventLevel.Warning)
            .MinimumLevel.Override("Npgsql", LogEventLevel.Warning)
            .MinimumLevel.Override("System.Net.Http", LogEventLevel.Warning)
            .MinimumLevel.Override("Polly", LogEventLevel.Warning)
            .ReadFrom.Configuration(settings)
            .Enrich.FromLogContext();
        return settings[FormSetting] is "json"
            ? log.WriteTo.Console(new RenderedCompactJsonFormatter())
            : log.WriteTo.Console(formatProvider: CultureInfo.InvariantCulture);
    }

    /// <summary>
    /// Writes a line with the ids of the facts that it is about, and where these are many, further lines with the rest. The
    /// ids are a property of the line and no part of its text.
    /// </summary>
    public static void OfFacts(Microsoft.Extensions.Logging.ILogger log, IReadOnlyList<string> ids, Action write)
    {
        if (!log.IsEnabled(LogLevel.Information)) return;
        var first = true;
        foreach (var some in ids.Chunk(MostIds).DefaultIfEmpty([]))
        {
            using (log.BeginScope(new KeyValuePair<string, object>[] { new("FactIds", some) }))
            {
                if (first) write();
                else log.LogInformation("Further facts of the line before: {Facts}", some.Length);
            }

            first = false;
        }
    }
}
