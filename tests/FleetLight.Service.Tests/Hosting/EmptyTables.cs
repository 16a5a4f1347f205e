using FleetLight.Service.Hosting;
using FleetLight.Service.Store;
using FleetLight.Testing.Postgres;
using Microsoft.AspNetCore.Builder;
using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;

namespace FleetLight.Service.Tests.Hosting;

/// <summary>
/// A database with the tables of this build and nothing in them, made once. Those of the tests are copies of it: the server copies
/// faster than it makes the tables anew for each of some eighty services.
/// </summary>
internal static class EmptyTables
{
    private static readonly Lazy<Task<TestDatabase>> Made = new(MakeAsync);

    /// <summary>A copy, as a database of one's own.</summary>
    public static async Task<TestDatabase> CopyAsync() => await TestDatabase.CreateAsync(await Made.Value);

    private static async Task<TestDatabase> MakeAsync()
    {
        TestDatabase database = await TestDatabase.CreateAsync();
        // A server that was given to the tests is left as it was.
        AppDomain.CurrentDomain.ProcessExit += (_, _) => database.DisposeAsync().AsTask().GetAwaiter().GetResult();
        await using WebApplication app = ServiceHost.Build([], builder => builder.Configuration.AddInMemoryCollection(new Dictionary<string, string?>
        {
            ["ConnectionStrings:FleetLight"] = database.ConnectionString,
            ["Serilog:MinimumLevel:Default"] = "Fatal",
            ["Webhooks:MasterSecret"] = RunningService.MasterSecret,
        }));
        await app.Services.GetServices<IHostedService>().OfType<SchemaStart>().Single().StartAsync(CancellationToken.None);
        return database;
    }
}
