using System.Net;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Circuits;

public sealed class HeadroomTests(FleetService service) : IClassFixture<FleetService>
{
    private const string Path = $"/v1/circuits/{Some.Circuit}/headroom";

    [Fact]
    public async Task Fittings_are_asked_about_on_the_circuit_as_it_is_recorded()
    {
        Organisation organisation = await AddAsync(Some.CircuitDesigned(), Some.CablePulled());

        HeadroomAnswer one = (await organisation.Office.PostAsync(Path, Asked())).Expect(HttpStatusCode.OK).As<HeadroomAnswer>();
        HeadroomAnswer spare = (await organisation.Office.PostAsync(Path, Asked("black", "brown"))).Expect(HttpStatusCode.OK).As<HeadroomAnswer>();

        Assert.Equal(["fitting-1", "fitting-2", "more"], one.Fittings.Select(fitting => fitting.FittingId).Order());
        Assert.True(one.May != Contracts.Calculations.MayAdd.No, one.Text);
        Assert.Contains("core 'brown' carries circuit circuit-1", spare.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_is_wrong_with_the_question_and_what_the_record_lacks_are_told_apart()
    {
        Organisation organisation = await AddAsync(Some.Reading());
        Answer lacking = await organisation.Office.PostAsync(Path, Asked());
        Answer none = await organisation.Office.PostAsync("/v1/circuits/nobody-named-it/headroom", Asked());
        Answer torn = await organisation.Office.PostAsync(Path, "{", "application/json");
        Answer empty = await organisation.Office.PostAsync(Path, new { add = Array.Empty<object>(), where = new { place = "driver" } });

        Assert.Equal((HttpStatusCode.Conflict, ProblemTypes.Conflict), (lacking.Status, lacking.As<Problem>().Type));
        Assert.Equal(HttpStatusCode.NotFound, none.Status);
        Assert.Equal((HttpStatusCode.BadRequest, ProblemTypes.BodyUnreadable), (torn.Status, torn.As<Problem>().Type));
        Assert.Equal((HttpStatusCode.BadRequest, "add"), (empty.Status, empty.As<Problem>().Field));
    }

    [Fact]
    public async Task A_core_that_the_cable_has_not_is_refused_by_name()
    {
        Organisation organisation = await AddAsync(Some.CircuitDesigned(), Some.CablePulled());

        Answer answer = await organisation.Office.PostAsync(Path, Asked("black", "pink"));

        Assert.Equal(HttpStatusCode.BadRequest, answer.Status);
        Assert.Equal("where.spare[0].cores[1]", answer.As<Problem>().Field);
    }

    private static object Asked(params string[] cores) => new
    {
        add = new[] { new { fittingId = "more", ratedWatts = 1.6 } },
        where = new { place = "driver", spare = cores.Length == 0 ? null : new[] { new { runId = "run-1", cores } } },
    };

    private async Task<Organisation> AddAsync(params Contracts.Facts.IFact[] facts)
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        await device.TellAsync(facts);
        await service.CaughtUpAsync();
        return organisation;
    }
}
