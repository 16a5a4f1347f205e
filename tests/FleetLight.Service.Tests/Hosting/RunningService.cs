using FleetLight.Service.Hosting;
using FleetLight.Testing.Service;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;

namespace FleetLight.Service.Tests.Hosting;

/// <summary>The service, whole, in this process: on Kestrel, on a port of its own, on a given database.</summary>
public sealed class RunningService : IAsyncDisposable
{
    private readonly WebApplication app;
    private readonly HttpClient http;

    /// <summary>What seals the secrets of webhooks in every test that does not say otherwise.</summary>
    public const string MasterSecret = "dGhpcyBpcyBhIG1hc3RlciBzZWNyZXQgb2YgdGhlIHRlc3Rz";

    private RunningService(WebApplication app)
    {
        this.app = app;
        Address = new Uri(app.Urls.First());
        http = new HttpClient(new SocketsHttpHandler { UseCookies = false }) { BaseAddress = Address, Timeout = TimeSpan.FromSeconds(60) };
        Api = new ApiClient(http, null);
    }

    /// <summary>Where it listens.</summary>
    public Uri Address { get; }

    /// <summary>Calls without a key.</summary>
    public ApiClient Api { get; }

    /// <summary>What the service is made of.</summary>
    public IServiceProvider Services => app.Services;

    /// <summary>Starts it.</summary>
    /// <param name="connectionString">Its database.</param>
    /// <param name="dataFolder">Its data folder, where the first key goes.</param>
    /// <param name="clock">Its clock.</param>
    /// <param name="log">Where its log lines go.</param>
    /// <param name="configure">Changes what it is made of.</param>
    /// <param name="settings">Settings over those of every test.</param>
    public static async Task<RunningService> StartAsync(
        string connectionString, string dataFolder, TimeProvider clock, LogLines log, Action<IServiceCollection>? configure = null,
        IEnumerable<KeyValuePair<string, string?>>? settings = null)
    {
        WebApplication app = ServiceHost.Build([], builder =>
        {
            builder.WebHost.UseUrls("http://127.0.0.1:0");
            builder.Configuration.AddInMemoryCollection(new Dictionary<string, string?>
            {
                ["ConnectionStrings:FleetLight"] = connectionString,
                ["FLEETLIGHT_DATA"] = dataFolder,
                ["Serilog:MinimumLevel:Default"] = "Fatal",
                // Receivers of webhooks listen in this process, and all callers come from one address.
                ["Webhooks:AllowedNetworks:0"] = "127.0.0.0/8",
                ["Webhooks:MasterSecret"] = MasterSecret,
                ["RateLimits:Anonymous:Burst"] = "100000",
                ["RateLimits:Administration:Burst"] = "100000",
                ["RateLimits:Exchange:Burst"] = "100000",
            });
            builder.Configuration.AddInMemoryCollection(settings ?? []);
            // What goes wrong on purpose in a test is no news on the console: the lines are kept for whoever asks.
            builder.Services.AddSingleton<ILoggerFactory>(new LoggerFactory([log]));
            builder.Services.AddSingleton(clock);
            configure?.Invoke(builder.Services);
        });
        try
        {
            await app.StartAsync();
            return new RunningService(app);
        }
        catch
        {
            await app.DisposeAsync();
            throw;
        }
    }

    /// <summary>Ends it as a shutdown does, while its callers are still connected.</summary>
    public Task StopAsync() => app.StopAsync();

    /// <summary>Hangs up and ends it as a shutdown does.</summary>
    public async ValueTask DisposeAsync()
    {
        http.Dispose();
        await app.StopAsync();
        await app.DisposeAsync();
    }
}
