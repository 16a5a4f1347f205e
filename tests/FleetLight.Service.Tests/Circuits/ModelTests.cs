using System.Net;
using FleetLight.Contracts;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Views;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Circuits;

public sealed class ModelTests(FleetService service) : IClassFixture<FleetService>
{
    private const string Path = $"/v1/circuits/{Some.Circuit}/model";

    [Fact]
    public async Task What_is_pasted_into_a_calculation_is_answered_with_what_the_status_says()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        await organisation.Office.SendAsync(
            HttpMethod.Put, "/v1/judging", new StringContent("""{"buriedCelsius":40}""", System.Text.Encoding.UTF8, "application/json"));
        await device.TellAsync(Some.CircuitDesigned(), Some.CablePulled(length: 60));
        await service.CaughtUpAsync();

        Answer model = (await organisation.Office.GetAsync(Path)).Expect(HttpStatusCode.OK);
        Answer answer = (await organisation.Office.PostAsync(
            "/v1/calculations/expected",
            new { circuit = model.Json["circuit"], assumptions = model.Json["assumptions"] })).Expect(HttpStatusCode.OK);

        CircuitView status = await organisation.Office.ReadAsync<CircuitView>($"/v1/circuits/{Some.Circuit}");
        ExpectedReading volts = status.Expected.Single(each => each is { Place: ReadingPlaceKind.Driver, Quantity: ReadingQuantity.VoltsDc });
        Assert.Equal(volts.Expected.Value, answer.As<ExpectedAnswer>().Expected!.DriverVoltsDc.Value, 0.00006);
        Assert.Equal(60, (double)model.Json["circuit"]!["runs"]![0]!["lengthMetres"]!);
        Assert.Empty(model.As<CircuitModelView>().Missing);
    }

    [Fact]
    public async Task It_is_answered_with_304_until_the_circuit_changes()
    {
        (Organisation organisation, Device device) = await AddAsync();
        Answer first = await organisation.Office.GetAsync(Path);
        string tag = first.Headers.ETag!.ToString();

        await device.TellAsync(Some.Reading());
        await service.CaughtUpAsync();
        Answer read = await organisation.Office.GetAsync(Path, ("If-None-Match", tag));
        await device.TellAsync(Some.CablePulled(length: 80));
        await service.CaughtUpAsync();
        Answer changed = await organisation.Office.GetAsync(Path, ("If-None-Match", tag));

        Assert.Equal((HttpStatusCode.NotModified, 0), (read.Status, read.Body.Length));
        Assert.Equal(HttpStatusCode.OK, changed.Status);
        Assert.NotEqual(tag, changed.Headers.ETag!.ToString());
    }

    [Fact]
    public async Task A_circuit_without_a_design_says_what_is_missing_and_one_that_nobody_named_is_not_found()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        await device.TellAsync(Some.Reading());
        await service.CaughtUpAsync();

        CircuitModelView model = await organisation.Office.ReadAsync<CircuitModelView>(Path);

        Assert.Null(model.Circuit);
        Assert.NotEmpty(model.Missing);
        Assert.Equal(HttpStatusCode.NotFound, (await organisation.Office.GetAsync("/v1/circuits/nobody-named-it/model")).Status);
    }

    private async Task<(Organisation Organisation, Device Device)> AddAsync()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        await device.TellAsync(Some.CircuitDesigned());
        await service.CaughtUpAsync();
        return (organisation, device);
    }
}
