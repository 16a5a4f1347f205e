using FleetLight.Service.Access;
using FleetLight.Service.Access.People;
using FleetLight.Service.Alerts;
using FleetLight.Service.Audit;
using FleetLight.Service.Calculations;
using FleetLight.Service.Circuits;
using FleetLight.Service.Designs;
using FleetLight.Service.Devices;
using FleetLight.Service.Exports;
using FleetLight.Service.FactLists;
using FleetLight.Service.Handover;
using FleetLight.Service.Health;
using FleetLight.Service.Hosting.Pages;
using FleetLight.Service.Intake;
using FleetLight.Service.Judgement;
using FleetLight.Service.Labels;
using FleetLight.Service.Ledger;
using FleetLight.Service.Limits;
using FleetLight.Service.Materials;
using FleetLight.Service.OpenData;
using FleetLight.Service.OpenPoints;
using FleetLight.Service.Photos;
using FleetLight.Service.Sites;
using FleetLight.Service.Store;
using FleetLight.Service.Subscriptions;
using FleetLight.Service.Sync;
using FleetLight.Service.Visits;
using FleetLight.Service.Works;
using Microsoft.Extensions.DependencyInjection.Extensions;

namespace FleetLight.Service.Hosting;

/// <summary>Puts the service together: the parts, then the order in which a request passes them.</summary>
public static class ServiceHost
{
    /// <summary>The service, ready to be started.</summary>
    /// <param name="args">Command line: settings such as <c>--urls</c>.</param>
    /// <param name="change">Changes parts, for tests and benchmarks.</param>
    public static WebApplication Build(string[] args, Action<WebApplicationBuilder>? change = null)
    {
        var builder = WebApplication.CreateSlimBuilder(args);
        builder.AddSecretFiles();
        builder.AddLogging();
        builder.WebHost.UseKestrelHttpsConfiguration();
        builder.AddRequestLimits();
        change?.Invoke(builder);
        builder.Services.TryAddSingleton(TimeProvider.System);
        builder.Services.AddStore(builder.Configuration.GetConnectionString("FleetLight")
            ?? throw new InvalidOperationException("Set ConnectionStrings__FleetLight to a PostgreSQL server, or start with deploy/up."));
        builder.Services.AddAccess();
        builder.Services.AddIntake();
        builder.Services.AddSubscriptions();
        builder.Services.AddAlerts();
        builder.Services.AddSync();
        builder.Services.AddReads();
        builder.Services.AddCalculations();
        builder.Services.AddPhotos();
        builder.Services.AddVisits();
        builder.Services.AddLedger();
        builder.Services.AddOpenData();
        builder.Services.AddOtherOrigins(builder.Configuration);
        builder.Services.AddOpenApiDocument();
        builder.AddTelemetry();
        builder.Services.AddExceptionHandler<FaultHandler>();
        // Else a parameter that cannot be read is answered with an empty 400, outside development.
        builder.Services.Configure<RouteHandlerOptions>(options => options.ThrowOnBadRequest = true);
        builder.Services.AddProblemDetails();

        var app = builder.Build();
        // Settings that cannot be are told at the start and not with the first token.
        _ = app.Services.GetRequiredService<PeopleDirectory>();
        _ = app.Services.GetRequiredService<AttachmentOptions>();
        _ = app.Services.GetRequiredService<LedgerOptions>();
        app.UseTrustedProxies();
        app.UseSafeHeaders();
        app.UseExceptionHandler();
        app.UseRequestLines();
        app.UsePages();
        app.UseRoutingProblems();
        app.UseTextGuard();
        app.UseRouting();
        app.UseOtherOrigins();
        app.UseTimeLimit();
        app.UseRequestTimeouts();
        app.UseMiddleware<KeyAccess>();
        app.UseOpenApiPage();
        app.MapIntake();
        app.MapRefused();
        app.MapCircuits();
        app.MapThings();
        app.MapSites();
        app.MapFacts();
        app.MapOpenPoints();
        app.MapDesigns();
        app.MapMaterials();
        app.MapLabels();
        app.MapHandover();
        app.MapAlerts();
        app.MapJudging();
        app.MapWebhooks();
        app.MapSubscriptions();
        app.MapStream();
        app.MapSetAside();
        app.MapChanges();
        app.MapCalculations();
        app.MapKeys();
        app.MapSelf();
        app.MapEnrolments();
        app.MapDevices();
        app.MapAudit();
        app.MapPhotos();
        app.MapAttachments();
        app.MapVisits();
        app.MapLedger();
        app.MapExports();
        app.MapOpenData();
        app.MapHealth();
        app.MapApiDocuments();
        app.MapPrometheusScrapingEndpoint("/metrics");
        return app;
    }
}
