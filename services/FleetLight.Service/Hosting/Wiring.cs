using FleetLight.Service.Access;
using FleetLight.Service.Access.People;
using FleetLight.Service.Alerts;
using FleetLight.Service.Circuits;
using FleetLight.Service.Intake;
using FleetLight.Service.Limits;
using FleetLight.Service.Sites;
using FleetLight.Service.Sync;
using Microsoft.Extensions.DependencyInjection.Extensions;
using OpenTelemetry.Metrics;
using Serilog;
using Serilog.Events;

namespace FleetLight.Service.Hosting;

/// <summary>Adds the parts of the service to the host.</summary>
public static class Wiring
{
    /// <summary>Structured log lines on the console.</summary>
    public static void AddLogging(this WebApplicationBuilder builder)
    {
        builder.Logging.ClearProviders();
        builder.Services.AddSerilog(configuration => configuration
            .MinimumLevel.Information()
            .MinimumLevel.Override("Microsoft", LogEventLevel.Warning)
            .MinimumLevel.Override("Microsoft.Hosting.Lifetime", LogEventLevel.Information)
            .MinimumLevel.Override("Marten", LogEventLevel.Warning)
            .MinimumLevel.Override("JasperFx", LogEventLevel.Warning)
            .MinimumLevel.Override("Npgsql", LogEventLevel.Warning)
            .MinimumLevel.Override("System.Net.Http", LogEventLevel.Warning)
            .MinimumLevel.Override("Polly", LogEventLevel.Warning)
            .ReadFrom.Configuration(builder.Configuration)
            .Enrich.FromLogContext()
            .WriteTo.Console(formatProvider: System.Globalization.CultureInfo.InvariantCulture));
    }

    /// <summary>One line a request: polled reads that went well are worth a line only when somebody looks for them.</summary>
    public static void UseRequestLines(this WebApplication app) => app.UseSerilogRequestLogging(options =>
    {
        options.MessageTemplate = "{RequestMethod} {RequestPath} answered {StatusCode} in {Elapsed:0.0} ms";
        options.GetLevel = (context, elapsed, fault) =>
            fault is not null || context.Response.StatusCode >= 500 ? LogEventLevel.Error
            : context.Response.StatusCode is >= 400 and not 404 || elapsed > 1000 ? LogEventLevel.Information
            : LogEventLevel.Debug;
    });

    /// <summary>Who may call.</summary>
    public static void AddAccess(this IServiceCollection services)
    {
        services.AddSingleton<KeyDirectory>();
        services.AddSingleton<PeopleDirectory>();
        services.AddHostedService<KeyFollower>();
        services.AddSingleton<RateLimits>();
        services.AddSingleton<RateGate>();
        services.AddHostedService<FirstKey>();
    }

    /// <summary>Taking facts in.</summary>
    public static void AddIntake(this IServiceCollection services)
    {
        services.AddSingleton<DeviceGates>();
        services.AddSingleton<AppendStore>();
        services.AddSingleton<DaemonNudge>();
        services.AddHostedService(provider => provider.GetRequiredService<DaemonNudge>());
        services.AddSingleton<DeviceDesk>();
        services.AddSingleton<IntakeRetry>();
        services.AddSingleton<IntakeMetrics>();
    }

    /// <summary>Telling of alerts.</summary>
    public static void AddAlerts(this IServiceCollection services)
    {
        services.TryAddSingleton(new DeliveryOptions());
        services.AddSingleton<DeliverySignal>();
        // A receiver that sends elsewhere has not taken the delivery, and where to deliver is the webhook's owner's to say.
        // A proxy would connect in our place, unseen.
        services.AddSingleton<ReceiverRules>();
        services.AddHttpClient(nameof(DeliveryWorker)).RemoveAllLoggers()
            .ConfigurePrimaryHttpMessageHandler(provider => new SocketsHttpHandler
            {
                AllowAutoRedirect = false,
                UseProxy = false,
                UseCookies = false,
                ConnectCallback = provider.GetRequiredService<ReceiverRules>().ConnectAsync,
            });
        services.AddHostedService<DeliveryWorker>();
    }

    /// <summary>Following what changes.</summary>
    public static void AddSync(this IServiceCollection services)
    {
        services.AddSingleton<StatusCache>();
        services.AddSingleton<ChangeFeed>();
        services.AddSingleton<ChangeSignal>();
        services.AddHostedService<ChangeFollower>();
    }

    /// <summary>Reading what was projected.</summary>
    public static void AddReads(this IServiceCollection services)
    {
        services.AddSingleton<CircuitHistory>();
        services.AddSingleton<CurrentCircuits>();
        services.AddSingleton<FleetQueries>();
    }

    /// <summary>Measuring.</summary>
    public static void AddMetrics(this IServiceCollection services, IWebHostEnvironment environment) => services.AddOpenTelemetry()
        .ConfigureResource(resource => OpenTelemetry.Resources.ResourceBuilderExtensions.AddService(resource, environment.ApplicationName))
        .WithMetrics(metrics => metrics.AddAspNetCoreInstrumentation().AddMeter("FleetLight").AddMeter("Npgsql").AddMeter("Polly").AddPrometheusExporter());

    /// <summary>Answers with a problem where routing finds no path, no method or no content type that is taken.</summary>
    public static void UseRoutingProblems(this WebApplication app) => app.UseStatusCodePages(async pages =>
    {
        if (Problems.OfRouting(pages.HttpContext) is { } problem) await Problems.WriteAsync(pages.HttpContext, problem);
    });
}
