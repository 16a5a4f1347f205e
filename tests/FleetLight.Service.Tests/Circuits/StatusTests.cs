using System.Net;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Service.Tests.Approvals;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Circuits;

public sealed class StatusTests(FleetService service) : IClassFixture<FleetService>
{
    private const string Path = $"/v1/circuits/{Some.Circuit}";

    [Fact]
    public async Task What_has_a_receipt_appears_in_the_status()
    {
        (Organisation organisation, Device device) = await AddAsync();

        await device.TellAsync(Some.CircuitDesigned());

        // Not by asking the projection how far it is: as a dashboard would see it.
        Answer found = await Eventually.ReadAsync(
            () => organisation.Office.GetAsync(Path), answer => answer.Status == HttpStatusCode.OK, "the circuit");
        CircuitView circuit = found.As<CircuitView>();
        Assert.Equal(("Steps", CircuitPhase.Designed, CircuitVerdict.Unread), (circuit.Name, circuit.Phase, circuit.Verdict));
    }

    [Fact]
    public async Task A_circuit_goes_from_design_to_handover_as_its_facts_come_in()
    {
        (Organisation organisation, Device device) = await AddAsync();
        List<CircuitPhase> phases = [];
        IFact[] work =
        [
            Some.CircuitDesigned(), Some.CablePulled(), Some.FittingFixed(1), Some.FittingFixed(2), Some.DriverConnected(),
            Some.CircuitEnergised(), Some.Reading(9.8), Some.CircuitHandedOver(),
        ];
        foreach (IFact fact in work)
        {
            await device.TellAsync(fact);
            await service.CaughtUpAsync();
            phases.Add((await organisation.Office.ReadAsync<CircuitView>(Path)).Phase);
        }

        Assert.Equal(
            [
                CircuitPhase.Designed, CircuitPhase.Cabled, CircuitPhase.Cabled, CircuitPhase.Fitted, CircuitPhase.Connected,
                CircuitPhase.Energised, CircuitPhase.Proven, CircuitPhase.HandedOver,
            ],
            phases);
    }

    [Fact]
    public async Task The_status_says_what_it_should_read_and_what_a_reading_says_of_it()
    {
        (Organisation organisation, Device device) = await AddAsync();
        await device.TellAsync(Some.CircuitDesigned(), Some.CablePulled(), Some.Reading(9.8));
        await service.CaughtUpAsync();

        CircuitView circuit = await organisation.Office.ReadAsync<CircuitView>(Path);

        // 3.2 W at 0.35 A is 9.14 V, and the 25 m loop takes about half a volt (common practice: about 9 V before cable).
        ExpectedValue expected = Assert.Single(
            circuit.Expected, each => each is { Place: ReadingPlaceKind.Driver, Quantity: ReadingQuantity.VoltsDc }).Expected;
        Assert.InRange(expected.Value, 9.1, 9.9);
        Assert.True(expected.Low < expected.Value && expected.Value < expected.High);
        Assert.Equal(CircuitVerdict.Within, circuit.Verdict);
        ReadingView reading = Assert.Single(circuit.LastReadings);
        Assert.Equal((9.8, CircuitVerdict.Within, Device.Began.AddMinutes(3)), (reading.Value, reading.Verdict, reading.HappenedAt));
        Assert.Equal([Some.Cable], circuit.CableIds);
        Assert.Equal(1, circuit.SpareCores);
    }

    [Fact]
    public async Task A_known_state_is_answered_with_304_until_it_changes()
    {
        (Organisation organisation, Device device) = await AddAsync();
        await device.TellAsync(Some.CircuitDesigned());
        await service.CaughtUpAsync();

        Answer first = await organisation.Office.GetAsync(Path);
        string tag = first.Headers.ETag!.ToString();
        Answer known = await organisation.Office.GetAsync(Path, ("If-None-Match", tag));
        await device.TellAsync(Some.CablePulled());
        await service.CaughtUpAsync();
        Answer changed = await Eventually.ReadAsync(
            () => organisation.Office.GetAsync(Path, ("If-None-Match", tag)), answer => answer.Status == HttpStatusCode.OK, "the changed state");

        Assert.Equal((HttpStatusCode.NotModified, 0), (known.Status, known.Body.Length));
        Assert.Equal(tag, known.Headers.ETag!.ToString());
        Assert.True(known.Headers.CacheControl is { Private: true, NoCache: true });
        Assert.NotEqual(tag, changed.Headers.ETag!.ToString());
        Assert.Equal(CircuitPhase.Cabled, changed.As<CircuitView>().Phase);
    }

    [Fact]
    public async Task A_polled_state_is_never_remembered_past_its_change()
    {
        (Organisation organisation, Device device) = await AddAsync();
        using CancellationTokenSource enough = new();
        // Loads that cross a change are what could be remembered wrongly, so there are as many of them as can be.
        Task[] pollers = [.. Enumerable.Range(0, 4).Select(_ => Task.Run(async () =>
        {
            while (!enough.IsCancellationRequested) await organisation.Office.GetAsync(Path);
        }))];

        for (int round = 1; round <= 25; round++)
        {
            await device.TellAsync(Some.Reading(round));
            await Eventually.ReadAsync(
                () => organisation.Office.GetAsync(Path),
                answer => answer.Status == HttpStatusCode.OK && answer.As<CircuitView>().LastReadings[0].Value == round,
                $"reading {round} to show");
        }

        await enough.CancelAsync();
        await Task.WhenAll(pollers);
    }

    [Theory]
    [InlineData("*", HttpStatusCode.NotModified)]
    [InlineData("W/{0}", HttpStatusCode.NotModified)]
    [InlineData("\"other\", {0}", HttpStatusCode.NotModified)]
    [InlineData("W/\"other\",W/{0}", HttpStatusCode.NotModified)]
    [InlineData("\"other\"", HttpStatusCode.OK)]
    [InlineData("other", HttpStatusCode.OK)]
    public async Task The_tag_is_matched_as_HTTP_asks(string given, HttpStatusCode expected)
    {
        (Organisation organisation, Device device) = await AddAsync();
        await device.TellAsync(Some.CircuitDesigned());
        await service.CaughtUpAsync();
        string tag = (await organisation.Office.GetAsync(Path)).Headers.ETag!.ToString();

        Answer answer = await organisation.Office.GetAsync(Path, ("If-None-Match", given.Replace("{0}", tag, StringComparison.Ordinal)));

        Assert.Equal(expected, answer.Status);
    }

    [Fact]
    public async Task The_same_state_has_the_same_tag_on_every_node_and_after_a_restart()
    {
        (Organisation organisation, Device device) = await AddAsync();
        await device.TellAsync(Some.CircuitDesigned());
        await service.CaughtUpAsync();
        Answer here = await organisation.Office.GetAsync(Path);

        await using RunningService second = await service.StartSecondAsync();
        Answer there = await second.Api.With(organisation.Office.Key).GetAsync(Path);

        Assert.Equal(here.Headers.ETag, there.Headers.ETag);
        Assert.Equal(here.Text, there.Text);
    }

    [Fact]
    public async Task A_second_node_shows_a_change_that_it_has_shown_before_the_change()
    {
        (Organisation organisation, Device device) = await AddAsync();
        await device.TellAsync(Some.CircuitDesigned());
        await service.CaughtUpAsync();
        await using RunningService second = await service.StartSecondAsync();
        ApiClient there = second.Api.With(organisation.Office.Key);
        Assert.Equal(CircuitPhase.Designed, (await there.ReadAsync<CircuitView>(Path)).Phase);

        await device.TellAsync(Some.CablePulled());

        await Eventually.ReadAsync(
            async () => (await there.ReadAsync<CircuitView>(Path)).Phase, phase => phase == CircuitPhase.Cabled, "the other node to show the change");
    }

    [Fact]
    public async Task A_circuit_that_nobody_named_is_not_found()
    {
        (Organisation organisation, _) = await AddAsync();

        Approved.Same("Circuits", "no such circuit", await organisation.Office.GetAsync("/v1/circuits/nobody-named-it"));
        Approved.Same("Circuits", "no such circuit", await organisation.Office.GetAsync("/v1/circuits/nobody-named-it?asOf=2026-06-01T00:00:00Z"));
    }

    [Fact]
    public async Task A_circuit_that_was_not_found_is_found_when_its_first_fact_has_come()
    {
        (Organisation organisation, Device device) = await AddAsync();
        Assert.Equal(HttpStatusCode.NotFound, (await organisation.Office.GetAsync(Path)).Status);

        await device.TellAsync(Some.Reading());

        await Eventually.IsSoAsync(async () => (await organisation.Office.GetAsync(Path)).Status == HttpStatusCode.OK, "the circuit");
    }

    private async Task<(Organisation Organisation, Device Device)> AddAsync()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        return (organisation, await organisation.AddDeviceAsync());
    }
}
