using FleetLight.Service.Access;
using FleetLight.Service.Alerts;
using FleetLight.Service.Circuits;
using FleetLight.Service.Health;
using FleetLight.Service.Hosting;
using FleetLight.Service.Intake;
using FleetLight.Service.Sites;
using FleetLight.Service.Store;
using FleetLight.Service.Sync;

var builder = WebApplication.CreateSlimBuilder(args);
builder.AddLogging();
builder.WebHost.UseKestrelHttpsConfiguration();
builder.WebHost.ConfigureKestrel(kestrel => kestrel.AddServerHeader = false);
builder.Services.AddSingleton(TimeProvider.System);
builder.Services.AddStore(builder.Configuration.GetConnectionString("FleetLight")
    ?? throw new InvalidOperationException("Set ConnectionStrings__FleetLight to a PostgreSQL server, or start with deploy/up."));
builder.Services.AddSingleton<FleetLight.Service.Works.WorksMetrics>();
builder.Services.AddAccess();
builder.Services.AddIntake();
builder.Services.AddAlerts();
builder.Services.AddSync();
builder.Services.AddSingleton<CircuitHistory>();
builder.Services.AddSingleton<FleetQueries>();
builder.Services.AddOpenApiDocument();
builder.Services.AddMetrics(builder.Environment);
builder.Services.AddExceptionHandler<FaultHandler>();
builder.Services.AddProblemDetails();

var app = builder.Build();
app.UseExceptionHandler();
app.UseRequestLines();
app.UseRouting();
app.UseMiddleware<KeyAccess>();
app.UseOpenApiDocument();
app.MapIntake();
app.MapRefused();
app.MapCircuits();
app.MapThings();
app.MapSites();
app.MapAlerts();
app.MapWebhooks();
app.MapChanges();
app.MapKeys();
app.MapHealth();
app.MapPrometheusScrapingEndpoint("/metrics");
app.MapNothing();
await app.RunAsync();

/// <summary>The host, named so that tests can start it.</summary>
public partial class Program;
