using System.Diagnostics;
using FleetLight.Service.Hosting;
using FleetLight.Service.Store;
using FleetLight.Service.Works;
using Npgsql;

namespace FleetLight.Service.Rebuilding;

/// <summary>
/// <c>FleetLight.Service rebuild</c>: works every state out again from the events, beside the running service. Reads are served
/// from the old states until the new ones take their place at once.
/// </summary>
public static class RebuildCommand
{
    /// <summary>The word with which nothing is done where the lists of facts hold all that was recorded.</summary>
    public const string UnlessWhole = "--unless-whole";

    private const long Lock = 0x666c_7265_6275_696c;
    private const int MostTries = 50;
    private static readonly TimeSpan Look = TimeSpan.FromMilliseconds(100);
    private static readonly TimeSpan Tell = TimeSpan.FromSeconds(5);

    /// <summary>Runs it.</summary>
    /// <param name="args">Settings as the service takes them, and <see cref="UnlessWhole"/>.</param>
    /// <returns>The exit code: 0 where the new states are in use.</returns>
    public static async Task<int> RunAsync(string[] args)
    {
        var builder = WebApplication.CreateSlimBuilder([.. args.Where(word => word != UnlessWhole)]);
        // A line a page, with all its facts, is for the service: here they are those of years.
        builder.Configuration["Serilog:MinimumLevel:Default"] = "Warning";
        builder.AddLogging();
        builder.Services.AddSingleton(TimeProvider.System);
        builder.Services.AddSingleton<WorksMetrics>();
        builder.Services.AddSingleton<WorksWatch>();
        await using var app = builder.Build();
        using var end = new CancellationTokenSource();
        Console.CancelKeyPress += (_, pressed) =>
        {
            pressed.Cancel = true;
            end.Cancel();
        };
        var connectionString = builder.Configuration.GetConnectionString("FleetLight");
        if (connectionString is null)
        {
            await Console.Error.WriteLineAsync("Set ConnectionStrings__FleetLight to the database of the service.");
            return 2;
        }

        await using var database = MartenSetup.Database(connectionString);
        await using var connection = await database.OpenConnectionAsync(end.Token);
        await using (var only = new NpgsqlCommand($"select pg_try_advisory_lock({Lock})", connection))
        {
            if (await only.ExecuteScalarAsync(end.Token) is not true)
            {
                await Console.Error.WriteLineAsync("Another rebuild of this database is under way.");
                return 1;
            }
        }

        if (await SchemaStart.VersionAsync(connection, end.Token) != SchemaStart.Version)
        {
            await Console.Error.WriteLineAsync("The database is of another version than this build: start this build as a service first.");
            return 1;
        }

        if (args.Contains(UnlessWhole))
        {
            if (await IsWholeAsync(connection, end.Token)) return 0;
            Console.WriteLine("The lists of facts do not hold yet what an earlier version recorded; all states are built again.");
        }

        return await RebuildAsync(app.Services, connectionString, connection, end.Token) ? 0 : 1;
    }

    private static async Task<bool> IsWholeAsync(NpgsqlConnection connection, CancellationToken cancel)
    {
        await using var command = new NpgsqlCommand($"select exists (select 1 from {Tables.Schema}.fl_facts_whole)", connection);
        return await command.ExecuteScalarAsync(cancel) is true;
    }

    private static async Task<bool> RebuildAsync(IServiceProvider services, string connectionString, NpgsqlConnection connection, CancellationToken cancel)
    {
        var began = Stopwatch.GetTimestamp();
        try
        {
            await using var shadow = await ShadowStore.MakeAsync(
                connectionString, connection, services.GetRequiredService<WorksWatch>(), services.GetRequiredService<ILogger<WorksProjection>>(), cancel);
            using var daemon = await shadow.Documents.BuildProjectionDaemonAsync();
            for (var tries = 1; tries <= MostTries; tries++)
            {
                await daemon.StartAllAsync();
                await CatchUpAsync(connection, began, cancel);
                await daemon.StopAllAsync();
                await PassedAsync(connection, cancel);
                if (!await Swap.TryAsync(connection, cancel)) continue;
                Console.WriteLine($"The new states are in use, after {Stopwatch.GetElapsedTime(began).TotalSeconds:0.0} s and {tries} tr{(tries == 1 ? "y" : "ies")}.");
                return true;
            }

            await Console.Error.WriteLineAsync("The running projection never paused long enough to change over. The old states stay in use; try when less comes in.");
            return false;
        }
        catch (OperationCanceledException) when (cancel.IsCancellationRequested)
        {
            await Console.Error.WriteLineAsync("Broken off. The old states stay in use.");
            return false;
        }
        finally
        {
            await ShadowStore.DropAsync(connection, CancellationToken.None);
        }
    }

    // Until the new states are about as far as the running ones.
    private static async Task CatchUpAsync(NpgsqlConnection connection, long began, CancellationToken cancel)
    {
        var told = Stopwatch.GetTimestamp();
        while (true)
        {
            var (running, built, newest) = await Swap.PlacesAsync(connection, cancel);
            if (built >= running) return;
            if (Stopwatch.GetElapsedTime(told) > Tell)
            {
                told = Stopwatch.GetTimestamp();
                Console.WriteLine($"{Stopwatch.GetElapsedTime(began).TotalSeconds:0} s: {built:N0} of {newest:N0}");
            }

            await Task.Delay(Look, cancel);
        }
    }

    // Until the running projection has been where the new states end; a service that does not run has to be there already.
    private static async Task PassedAsync(NpgsqlConnection connection, CancellationToken cancel)
    {
        for (var looks = 0; looks < 100; looks++)
        {
            var (running, built, newest) = await Swap.PlacesAsync(connection, cancel);
            if (running > built || (running == built && newest == running)) return;
            await Task.Delay(10, cancel);
        }
    }
}
