using FleetLight.Service.Access;
using FleetLight.Service.Access.People;
using FleetLight.Service.Alerts;
using FleetLight.Service.Circuits;
using FleetLight.Service.Exports;
using FleetLight.Service.FactLists;
using FleetLight.Service.Handover;
using FleetLight.Service.Health;
using FleetLight.Service.Intake;
using FleetLight.Service.Ledger;
using FleetLight.Service.Limits;
using FleetLight.Service.MadeFiles;
using FleetLight.Service.Photos;
using FleetLight.Service.Rebuilding;
using FleetLight.Service.Secrets;
using FleetLight.Service.Sites;
using FleetLight.Service.Subscriptions;
using FleetLight.Service.Sync;
using FleetLight.Service.Visits;
using FleetLight.Service.Works;
using Microsoft.Extensions.DependencyInjection.Extensions;
using OpenTelemetry.Metrics;
using OpenTelemetry.Resources;
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
        builder.Services.AddSerilog(log => ServiceLog.Configure(log, builder.Configuration));
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
        services.AddSingleton<Refusals>();
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
        services.AddSingleton<IntakeTelling>();
    }

    /// <summary>Telling of alerts.</summary>
    public static void AddAlerts(this IServiceCollection services)
    {
        services.TryAddSingleton(new DeliveryOptions());
        services.AddSingleton<DeliverySignal>();
        services.AddSingleton<DeliveryMetrics>();
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
        services.AddSingleton<ReceiverCalls>();
        services.AddHostedService<DeliveryWorker>();
    }

    /// <summary>Telling of facts, alerts and changes from a place on, and what signs what is told.</summary>
    public static void AddSubscriptions(this IServiceCollection services)
    {
        services.AddSingleton(provider => new SecretSeal(MasterSecret.Read(provider.GetRequiredService<IConfiguration>())));
        services.AddSingleton<SealStanding>();
        services.AddSingleton<KeyHolders>();
        services.AddSingleton<SubscriptionRows>();
        services.AddSingleton<SubscriptionSignal>();
        services.AddSingleton<ToldReader>();
        services.AddHostedService<SecretStart>();
        services.AddHostedService<SubscriptionWorker>();
    }

    /// <summary>Following what changes.</summary>
    public static void AddSync(this IServiceCollection services)
    {
        services.AddSingleton<ReadMetrics>();
        services.AddSingleton<StatusCache>();
        services.AddSingleton<ChangeFeed>();
        services.AddSingleton<ChangeSignal>();
        services.AddSingleton<LiveEvents>();
        services.AddHostedService<ChangeFollower>();
    }

    /// <summary>Reading what was projected.</summary>
    public static void AddReads(this IServiceCollection services)
    {
        services.AddSingleton<CircuitHistory>();
        services.AddSingleton<CurrentCircuits>();
        services.AddSingleton<FactQuery>();
        services.AddSingleton<CircuitStatus>();
        services.AddSingleton<SitePast>();
        services.AddSingleton<FleetQueries>();
        services.AddSingleton<FleetSites>();
        services.AddSingleton<FleetDays>();
        services.AddSingleton<SiteReader>();
        services.AddSingleton<HandoverDesk>();
        services.AddSingleton<SetAsideList>();
        services.AddHostedService<SetAsideWatch>();
        services.TryAddSingleton(new ProjectionWatchOptions());
        services.AddSingleton<ProjectionWatch>();
        services.AddHostedService(provider => provider.GetRequiredService<ProjectionWatch>());
        services.AddHostedService<ChangeOver>();
    }

    /// <summary>Keeping pictures.</summary>
    public static void AddPhotos(this IServiceCollection services)
    {
        services.AddSingleton<AttachmentOptions>();
        services.AddSingleton<AttachmentDesk>();
        services.AddSingleton<UploadGate>();
    }

    /// <summary>Keeping the ledger, and taking everything along.</summary>
    public static void AddLedger(this IServiceCollection services)
    {
        services.AddSingleton<LedgerOptions>();
        services.AddSingleton<LedgerAppender>();
        services.AddSingleton<LedgerKeys>();
        services.AddHostedService(provider => provider.GetRequiredService<LedgerKeys>());
        services.AddSingleton<CheckpointDesk>();
        services.AddSingleton<LedgerQuery>();
        services.AddHostedService<LedgerWorker>();
        services.AddSingleton<ExportTableReader>();
        services.AddMadeFiles<TableOf, TableMaker>(TableMaker.Options, maker => maker.MakeAsync);
    }

    /// <summary>Planning visits.</summary>
    public static void AddVisits(this IServiceCollection services)
    {
        services.AddSingleton<VisitDesk>();
        services.AddSingleton<TakeAlongDesk>();
    }

    /// <summary>Measuring and tracing. Measures are there for a scrape at /metrics; both go to a collector where one is named.</summary>
    public static void AddTelemetry(this WebApplicationBuilder builder)
    {
        builder.Services.AddSingleton<StoreGauges>();
        builder.Services.AddHostedService<StoreSampler>();
        var telemetry = builder.Services.AddOpenTelemetry()
            .ConfigureResource(resource => resource.AddService(
                "fleetlight", serviceVersion: typeof(Wiring).Assembly.GetName().Version!.ToString(3)).AddEnvironmentVariableDetector())
            .WithMetrics(metrics =>
            {
                metrics.AddAspNetCoreInstrumentation().AddMeter(Measures.MeterName).AddMeter("Npgsql").AddMeter("Polly").AddMeter("System.Runtime")
                    .AddView(Measures.ViewOf).AddPrometheusExporter();
                if (Tracing.IsExported(builder.Configuration, "METRICS")) metrics.AddOtlpExporter();
            });
        Tracing.Add(telemetry, builder.Configuration);
    }

    /// <summary>Answers with a problem where routing finds no path, no method or no content type that is taken.</summary>
    public static void UseRoutingProblems(this WebApplication app) => app.UseStatusCodePages(async pages =>
    {
        if (Problems.OfRouting(pages.HttpContext) is { } problem) await Problems.WriteAsync(pages.HttpContext, problem);
    });
}
