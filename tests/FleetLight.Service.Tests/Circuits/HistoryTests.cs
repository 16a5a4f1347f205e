using System.Net;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Service.Tests.Approvals;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Circuits;

/// <summary>What had happened by a time, and what was known by a time, are two questions: facts arrive late.</summary>
/// <remarks>The tests of this class put the clock on, so each has a service of its own.</remarks>
public sealed class HistoryTests : IAsyncLifetime
{
    private static readonly DateTimeOffset Spring = new(2041, 3, 1, 9, 0, 0, TimeSpan.Zero);
    private readonly FleetService service = new();
    private Organisation organisation = null!;
    private Device device = null!;

    public async ValueTask InitializeAsync()
    {
        await service.InitializeAsync();
        organisation = await service.AddOrganisationAsync();
        device = await organisation.AddDeviceAsync();
    }

    public ValueTask DisposeAsync() => service.DisposeAsync();

    [Fact]
    public async Task The_state_as_of_a_time_holds_what_had_happened_by_then()
    {
        await AtAsync(Spring, Some.CircuitDesigned());
        await AtAsync(Spring.AddDays(1), Some.CablePulled());
        await AtAsync(Spring.AddDays(2), Some.FittingFixed(1), Some.FittingFixed(2));
        await service.CaughtUpAsync();

        Assert.Equal(HttpStatusCode.NotFound, (await GetAsync(asOf: Spring.AddSeconds(-1))).Status);
        Assert.Equal(CircuitPhase.Designed, await PhaseAsync(asOf: Spring));
        Assert.Equal(CircuitPhase.Designed, await PhaseAsync(asOf: Spring.AddDays(1).AddSeconds(-1)));
        Assert.Equal(CircuitPhase.Cabled, await PhaseAsync(asOf: Spring.AddDays(1)));
        Assert.Equal(CircuitPhase.Fitted, await PhaseAsync(asOf: Spring.AddDays(3)));
    }

    [Fact]
    public async Task A_late_fact_had_happened_before_it_was_known()
    {
        await AtAsync(Spring, Some.CircuitDesigned());
        // Pulled on the second, told a week later.
        SentEvent late = device.Record(Some.CablePulled(), Spring.AddDays(1));
        service.Clock.Now = Spring.AddDays(8);
        await device.SendAsync(late);
        await service.CaughtUpAsync();

        Assert.Equal(CircuitPhase.Cabled, await PhaseAsync(asOf: Spring.AddDays(2)));
        Assert.Equal(CircuitPhase.Designed, await PhaseAsync(asOf: Spring.AddDays(2), knownBy: Spring.AddDays(2)));
        Assert.Equal(CircuitPhase.Designed, await PhaseAsync(knownBy: Spring.AddDays(7)));
        Assert.Equal(CircuitPhase.Cabled, await PhaseAsync(knownBy: Spring.AddDays(8)));
        Assert.Equal(CircuitPhase.Designed, await PhaseAsync(asOf: Spring.AddHours(1), knownBy: Spring.AddDays(9)));
    }

    [Fact]
    public async Task Readings_are_those_that_had_been_taken_and_were_known()
    {
        await AtAsync(Spring, Some.Reading(1));
        await AtAsync(Spring.AddDays(1), Some.Reading(2));
        SentEvent late = device.Record(Some.Reading(1.5), Spring.AddHours(12));
        service.Clock.Now = Spring.AddDays(5);
        await device.SendAsync(late);
        await service.CaughtUpAsync();

        Assert.Equal([2, 1.5, 1], await ValuesAsync());
        Assert.Equal([1.5, 1], await ValuesAsync(asOf: Spring.AddHours(20)));
        Assert.Equal([1], await ValuesAsync(asOf: Spring.AddHours(20), knownBy: Spring.AddDays(4)));
        Assert.Equal([2, 1], await ValuesAsync(knownBy: Spring.AddDays(4)));
    }

    [Fact]
    public async Task The_past_shows_sixteen_readings_of_then_and_not_those_that_came_after()
    {
        for (int day = 0; day < 30; day++) await AtAsync(Spring.AddDays(day), Some.Reading(day));
        await service.CaughtUpAsync();

        Assert.Equal(Enumerable.Range(4, 16).Reverse().Select(day => (double)day), await ValuesAsync(asOf: Spring.AddDays(19)));
    }

    [Fact]
    public async Task What_a_circuit_leans_on_is_as_it_was_too()
    {
        await AtAsync(Spring, Some.CircuitDesigned(), Some.CablePulled(length: 25));
        SentEvent pulled = device.Record(Some.CablePulled(length: 40), Spring.AddDays(3));
        service.Clock.Now = Spring.AddDays(3);
        await device.SendAsync(pulled);
        await service.CaughtUpAsync();

        CircuitView before = (await GetAsync(asOf: Spring.AddDays(2))).Expect(HttpStatusCode.OK).As<CircuitView>();
        CircuitView after = (await GetAsync(asOf: Spring.AddDays(3))).Expect(HttpStatusCode.OK).As<CircuitView>();

        Assert.True(DriverVolts(after) > DriverVolts(before) + 0.1, $"{DriverVolts(before)} V, then {DriverVolts(after)} V");
    }

    [Fact]
    public async Task A_withdrawal_holds_for_the_past_once_it_is_known()
    {
        SentEvent wrong = device.Record(Some.Reading(99), Spring, id: "wrong");
        service.Clock.Now = Spring;
        await device.SendAsync(wrong);
        await AtAsync(Spring.AddDays(10), Correct.Withdraw("wrong", Some.Reading()));
        await service.CaughtUpAsync();

        Assert.Equal([], await ValuesAsync(asOf: Spring.AddDays(1)));
        Assert.Equal([99], await ValuesAsync(knownBy: Spring.AddDays(9)));
        Assert.Equal([99], await ValuesAsync(asOf: Spring.AddDays(1), knownBy: Spring.AddDays(9)));
    }

    [Fact]
    public async Task A_replacement_of_a_fact_holds_for_the_past_once_it_is_known()
    {
        SentEvent design = device.Record(Some.CircuitDesigned(), Spring, id: "design");
        service.Clock.Now = Spring;
        await device.SendAsync(design);
        await AtAsync(Spring.AddDays(10), Correct.Replace("design", Some.CircuitDesigned() with { Name = "Stairs" }));
        await service.CaughtUpAsync();

        Assert.Equal("Stairs", (await GetAsync(asOf: Spring.AddDays(1))).As<CircuitView>().Name);
        Assert.Equal("Steps", (await GetAsync(knownBy: Spring.AddDays(9))).As<CircuitView>().Name);
    }

    [Fact]
    public async Task Now_is_as_of_now()
    {
        await AtAsync(Spring, Some.CircuitDesigned(), Some.CablePulled(), Some.DuctLaid(), Some.FittingFixed(1), Some.JointMade(), Some.Reading(9.8));
        await service.CaughtUpAsync();

        Answer plain = await GetAsync();
        Answer asOf = await GetAsync(asOf: Spring.AddYears(1), knownBy: Spring.AddYears(1));

        Assert.Equal(plain.Text, asOf.Text);
    }

    [Fact]
    public async Task A_reading_that_was_moved_to_its_right_circuit_was_under_the_wrong_one_until_that_was_known()
    {
        SentEvent misplaced = device.Record(Some.Reading(7), Spring, id: "misplaced");
        service.Clock.Now = Spring;
        await device.SendAsync(misplaced);
        await AtAsync(Spring.AddDays(10), Correct.Replace("misplaced", Some.Reading(7, "circuit-2")));
        await service.CaughtUpAsync();

        Assert.Equal([7], await ValuesAsync(knownBy: Spring.AddDays(9)));
        Assert.Equal([], await ValuesAsync(knownBy: Spring.AddDays(10)));
        Assert.Equal([7], (await organisation.Office.ReadAsync<CircuitView>("/v1/circuits/circuit-2")).LastReadings.Select(reading => reading.Value));
        Answer rightOne = await organisation.Office.GetAsync($"/v1/circuits/circuit-2?{Parameter("knownBy", Spring.AddDays(9))}");
        Assert.Equal(HttpStatusCode.NotFound, rightOne.Status);
    }

    [Theory]
    [InlineData("asOf")]
    [InlineData("knownBy")]
    public async Task A_time_that_cannot_be_read_is_said_so(string parameter)
    {
        Approved.Same("Circuits", $"an unreadable {parameter}", await organisation.Office.GetAsync($"/v1/circuits/{Some.Circuit}?{parameter}=yesterday"));
    }

    // Happened then, and was told at once.
    private async Task AtAsync(DateTimeOffset at, params IFact[] facts)
    {
        service.Clock.Now = at;
        await device.SendAsync([.. facts.Select(fact => device.Record(fact, at))]);
    }

    private Task<Answer> GetAsync(DateTimeOffset? asOf = null, DateTimeOffset? knownBy = null) =>
        organisation.Office.GetAsync($"/v1/circuits/{Some.Circuit}?{Parameter("asOf", asOf)}&{Parameter("knownBy", knownBy)}");

    private static string Parameter(string name, DateTimeOffset? time) => time is { } at ? $"{name}={Uri.EscapeDataString(at.ToString("O"))}" : "";

    private async Task<CircuitPhase> PhaseAsync(DateTimeOffset? asOf = null, DateTimeOffset? knownBy = null) =>
        (await GetAsync(asOf, knownBy)).Expect(HttpStatusCode.OK).As<CircuitView>().Phase;

    private async Task<IEnumerable<double>> ValuesAsync(DateTimeOffset? asOf = null, DateTimeOffset? knownBy = null) =>
        (await GetAsync(asOf, knownBy)).Expect(HttpStatusCode.OK).As<CircuitView>().LastReadings.Select(reading => reading.Value);

    private static double DriverVolts(CircuitView circuit) => circuit.Expected
        .Single(each => each is { Place: ReadingPlaceKind.Driver, Quantity: ReadingQuantity.VoltsDc }).Expected.Value;
}
