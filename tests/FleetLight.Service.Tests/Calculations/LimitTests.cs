using System.Net;
using System.Text;
using System.Text.Json.Nodes;
using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Calculations;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace FleetLight.Service.Tests.Calculations;

/// <summary>Calculations are bounded: in what they take, and in how many of them run at once.</summary>
public sealed class LimitTests(LimitTests.Narrow service) : IClassFixture<LimitTests.Narrow>
{
    private const string Path = "/v1/calculations/expected";

    [Fact]
    public async Task The_largest_circuit_is_answered_whole()
    {
        Answer answer = await (await ReaderAsync()).PostAsync(Path, Chain(CalculationLimits.MostFittings), "application/json");

        JsonNode expected = answer.Expect(HttpStatusCode.OK).Json["expected"]!;
        Assert.Equal(CalculationLimits.MostFittings, expected["fittings"]!.AsArray().Count);
        Assert.Equal(CalculationLimits.MostRuns, expected["places"]!.AsArray().Count);
    }

    [Fact]
    public async Task A_larger_circuit_is_a_problem()
    {
        Answer answer = await (await ReaderAsync()).PostAsync(Path, Chain(CalculationLimits.MostFittings + 1), "application/json");

        Assert.Equal(HttpStatusCode.BadRequest, answer.Status);
        Assert.Equal("circuit.fittings", answer.As<Problem>().Field);
    }

    [Fact]
    public async Task More_bytes_than_are_taken_are_a_problem()
    {
        ApiClient reader = await ReaderAsync();
        string most = "{}".PadRight(CalculationLimits.MostBytes);

        Answer fits = await reader.PostAsync(Path, most, "application/json");
        Answer tooLarge = await reader.PostAsync(Path, most + " ", "application/json");

        Assert.Equal(HttpStatusCode.BadRequest, fits.Status);
        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, tooLarge.Status);
        Assert.Equal(ProblemTypes.RequestTooLarge, tooLarge.As<Problem>().Type);
        (await AnswerSchemas.ReadAsync(service.Anybody)).Check("POST", Path, tooLarge);
    }

    [Fact]
    public async Task Where_too_many_wait_the_next_is_told_when_to_try_again()
    {
        ApiClient reader = await ReaderAsync();
        JsonObject light = WorkedExamples.Request("expected.one-load");
        using IDisposable? first = await Gate.EnterAsync("another", isHeavy: false, CancellationToken.None);

        Answer turnedAway = await reader.PostAsync(Path, light);
        first!.Dispose();
        Answer answered = await reader.PostAsync(Path, light);

        Assert.Equal(HttpStatusCode.TooManyRequests, turnedAway.Status);
        Assert.Equal(ProblemTypes.TooBusy, turnedAway.As<Problem>().Type);
        Assert.Equal(TimeSpan.FromSeconds(1), turnedAway.Headers.RetryAfter!.Delta);
        (await AnswerSchemas.ReadAsync(service.Anybody)).Check("POST", Path, turnedAway);
        Assert.Equal(HttpStatusCode.OK, answered.Status);
    }

    [Fact]
    public async Task Heavy_ones_keep_no_light_one_waiting()
    {
        ApiClient reader = await ReaderAsync();
        using IDisposable? heavy = await Gate.EnterAsync("another", isHeavy: true, CancellationToken.None);

        Answer large = await reader.PostAsync(Path, Chain(1000), "application/json");
        Answer small = await reader.PostAsync(Path, WorkedExamples.Request("expected.one-load"));

        Assert.Equal(HttpStatusCode.TooManyRequests, large.Status);
        Assert.Equal(HttpStatusCode.OK, small.Status);
    }

    [Fact]
    public async Task One_organisation_never_takes_every_place()
    {
        await using CalculationGate gate = new(new CalculationGateOptions { HeavyAtOnce = 2, HeavyWaiting = 0, HeavyOfOne = 1 });

        using IDisposable? one = await gate.EnterAsync("one", isHeavy: true, CancellationToken.None);
        using IDisposable? again = await gate.EnterAsync("one", isHeavy: true, CancellationToken.None);
        using IDisposable? other = await gate.EnterAsync("other", isHeavy: true, CancellationToken.None);

        Assert.NotNull(one);
        Assert.Null(again);
        Assert.NotNull(other);
    }

    [Fact]
    public async Task Whoever_waits_comes_in_when_a_place_is_left_and_leaves_none_behind_on_hanging_up()
    {
        await using CalculationGate gate = new(new CalculationGateOptions { LightAtOnce = 1, LightWaiting = 1, LightOfOne = 2 });
        using CancellationTokenSource hangUp = new();
        IDisposable? first = await gate.EnterAsync("one", isHeavy: false, CancellationToken.None);

        Task<IDisposable?> impatient = gate.EnterAsync("one", isHeavy: false, hangUp.Token).AsTask();
        await hangUp.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => impatient);
        Task<IDisposable?> patient = gate.EnterAsync("one", isHeavy: false, CancellationToken.None).AsTask();
        Assert.False(patient.IsCompleted);
        first!.Dispose();

        Assert.NotNull(await patient);
    }

    private CalculationGate Gate => service.Running.Services.GetRequiredService<CalculationGate>();

    private async Task<ApiClient> ReaderAsync() => (await service.AddOrganisationAsync()).Office;

    // Fittings one after the other along one cable.
    private static string Chain(int fittings)
    {
        StringBuilder text = new("""{"circuit":{"drive":"constant-voltage","driver":{"ratedVolts":24},"fittings":[""");
        text.AppendJoin(',', Enumerable.Range(1, fittings).Select(i => $$"""{"fittingId":"f{{i}}","ratedWatts":0.001}"""));
        text.Append("""],"runs":[""");
        text.AppendJoin(',', Enumerable.Range(1, fittings).Select(i =>
            $$"""{"runId":"r{{i}}","from":"{{(i == 1 ? "driver" : $"f{i - 1}")}}","to":"f{{i}}","lengthMetres":0.01,"areaSquareMillimetres":16,"conductorClass":"class2"}"""));
        return text.Append("]}}").ToString();
    }

    /// <summary>A service with one place for each kind of calculation, where nobody waits.</summary>
    public sealed class Narrow : FleetService
    {
        /// <inheritdoc/>
        protected override void Configure(IServiceCollection services) => services.AddSingleton(new CalculationGateOptions
        {
            HeavyAtOnce = 1,
            HeavyWaiting = 0,
            LightAtOnce = 1,
            LightWaiting = 0,
        });
    }
}
