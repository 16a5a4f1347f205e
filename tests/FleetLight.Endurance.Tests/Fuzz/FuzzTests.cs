using System.Collections.Concurrent;
using System.Diagnostics;
using System.Globalization;
using System.Net;
using FleetLight.Endurance.Tests.Hosting;
using FleetLight.Testing.Builders;
using FleetLight.Testing.Postgres;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Endurance.Tests.Fuzz;

/// <summary>
/// Requests by chance, from the OpenAPI document and the examples of the contract, against the service as a process. The seed
/// stands in the output; FLEETLIGHT_FUZZ_SEED gives it and FLEETLIGHT_FUZZ_REQUESTS how many requests are made.
/// </summary>
public sealed class FuzzTests : IAsyncLifetime
{
    private const int Lanes = 12;
    private const int Devices = 4;
    private const long MostBytes = 1_500_000_000;
    // Far beyond the dearest calculation (contracts/README.md names the limits), far below any patience.
    private static readonly TimeSpan Hang = TimeSpan.FromSeconds(20);
    private static readonly TimeSpan CatchingUp = TimeSpan.FromMinutes(5);
    // From here on it is worth a look: the slowest are told.
    private static readonly TimeSpan Slow = TimeSpan.FromSeconds(1);

    private readonly ConcurrentDictionary<string, string> faults = new();
    private readonly ConcurrentDictionary<int, int> statuses = new();
    private readonly ConcurrentBag<(TimeSpan Took, int Status, string Line)> slow = [];
    private readonly ConcurrentDictionary<string, (int Times, TimeSpan Took)> spentOn = new(StringComparer.Ordinal);
    private TestDatabase database = null!;
    private ServiceProcess service = null!;
    private long most;

    private IPEndPoint Address => new(IPAddress.Loopback, service.Url.Port);

    public async ValueTask InitializeAsync()
    {
        database = await TestDatabase.CreateAsync();
        await database.DoNotWaitForTheDiskAsync();
        service = await ServiceProcess.StartAsync(database.ConnectionString);
    }

    public async ValueTask DisposeAsync()
    {
        await service.DisposeAsync();
        await database.DisposeAsync();
    }

    [Fact]
    public async Task No_request_makes_the_service_fail_hang_grow_or_tell_of_its_inside()
    {
        long seed = Given("FLEETLIGHT_FUZZ_SEED") ?? Random.Shared.NextInt64(1_000_000_000);
        int wanted = (int)(Given("FLEETLIGHT_FUZZ_REQUESTS") ?? 100_000);
        Say($"Seed {seed}, {wanted} requests.");
        Target[] targets = await Target.PrepareAsync(service, Devices);
        string key = targets[0].Key;
        foreach (EverFailed failed in EverFailed.All) await AskAsync(new RawConnection(Address), failed.With(key), key, $"again: {failed.Why}");

        RequestMaker[] makers = [.. targets.Select(target => new RequestMaker(target))];
        int made = 0;
        long began = Stopwatch.GetTimestamp();
        await Task.WhenAll(Enumerable.Range(0, Lanes).Select(lane => Task.Run(async () =>
        {
            Random dice = new((int)(seed * Lanes + lane));
            using RawConnection connection = new(Address);
            while (Interlocked.Increment(ref made) is var number && number <= wanted && faults.Count < 25 && !service.HasExited)
            {
                if (number % 1000 == 0) most = Math.Max(most, service.WorkingSet);
                await AskAsync(connection, makers[lane % Devices].Make(dice), targets[lane % Devices].Key, null);
            }
        })));

        TimeSpan took = Stopwatch.GetElapsedTime(began);
        Say($"{Math.Min(made, wanted)} requests in {took.TotalSeconds:0} s; answers: "
            + string.Join(", ", statuses.OrderBy(pair => pair.Key).Select(pair => $"{pair.Key}: {pair.Value}")) + $"; at most {most / 1e6:0} MB.");
        foreach (var (spent, status, line) in slow.OrderByDescending(each => each.Took).Take(10)) Say($"  {spent.TotalSeconds:0.0} s, {status}: {line}");
        Say("Most of the waiting: " + string.Join("; ", spentOn.OrderByDescending(each => each.Value.Took).Take(12)
            .Select(each => $"{each.Key} {each.Value.Took.TotalSeconds:0} s of {each.Value.Times}")));
        Assert.False(service.HasExited, $"The service ended:\n{service.Log}");
        Assert.True(faults.IsEmpty, string.Join('\n', faults.Select(pair => $"{pair.Key}\n  {pair.Value}").Prepend(Unexpected())));
        Assert.DoesNotContain("Unexpected fault", service.Log, StringComparison.Ordinal);
        Assert.InRange(most, 1, MostBytes);
        await StillWorksAsync();
    }

    // What the service says of it itself comes first: it may be all that is left to read.
    private string Unexpected() => string.Join('\n', service.Log.Split('\n')
        .SkipWhile(line => !line.Contains("Unexpected fault", StringComparison.Ordinal)).Take(8));

    // It takes facts, works them into states, and nothing that it took on the way is stuck in the projection.
    private async Task StillWorksAsync()
    {
        // Tens of thousands of facts, all of a few things: how soon is measured elsewhere.
        await service.CaughtUpAsync(CatchingUp);
        Assert.DoesNotContain("set aside", (await service.Anybody.GetAsync("/health/ready")).Text, StringComparison.Ordinal);
        Organisation organisation = await Organisation.CreateAsync(service.Host);
        await (await organisation.AddDeviceAsync()).TellAsync(Facts.BoxSealed());
        await service.CaughtUpAsync();
        Assert.Equal(HttpStatusCode.OK, (await organisation.Office.GetAsync("/v1/boxes/box-1")).Status);
    }

    private async Task AskAsync(RawConnection connection, MadeRequest request, string key, string? note)
    {
        using CancellationTokenSource patience = new(Hang);
        string? fault;
        long began = Stopwatch.GetTimestamp();
        int status = 0;
        try
        {
            RawAnswer answer = await connection.SendAsync(request.Bytes, request.EndsSending, patience.Token);
            status = answer.Status;
            statuses.AddOrUpdate(status, 1, (_, count) => count + 1);
            fault = AnswerCheck.Fault(answer) ?? (answer.Status == 0 && !request.EndsSending ? "hung up without an answer" : null);
        }
        catch (OperationCanceledException)
        {
            connection.Dispose();
            fault = $"no answer within {Hang.TotalSeconds:0} s";
        }

        TimeSpan spent = Stopwatch.GetElapsedTime(began);
        spentOn.AddOrUpdate(request.Of, (1, spent), (_, sum) => (sum.Times + 1, sum.Took + spent));
        if (spent > Slow) slow.Add((spent, status, LineOf(request, 160)));
        if (fault is not null) faults.TryAdd($"{note}{fault}: {LineOf(request, 60)}", EverFailed.Line(fault, request, key));
    }

    private static string LineOf(MadeRequest request, int most) =>
        request.Bytes.AsSpan().IndexOf("\r\n"u8) is var end and >= 0 ? System.Text.Encoding.Latin1.GetString(request.Bytes, 0, Math.Min(end, most)) : "";

    private static long? Given(string name) =>
        long.TryParse(Environment.GetEnvironmentVariable(name), CultureInfo.InvariantCulture, out long value) ? value : null;

    private static void Say(string text)
    {
        TestContext.Current.TestOutputHelper?.WriteLine(text);
        TestContext.Current.SendDiagnosticMessage(text);
        Directory.CreateDirectory(Repository.At("TestResults"));
        File.AppendAllText(Repository.At("TestResults/fuzz.txt"), $"{DateTimeOffset.UtcNow:u} {text}\n");
    }
}
