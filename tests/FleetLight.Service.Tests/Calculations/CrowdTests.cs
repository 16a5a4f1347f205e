using System.Net;
using System.Text.Json.Nodes;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Calculations;

/// <summary>Calculations do not keep facts from being taken in.</summary>
public sealed class CrowdTests(FleetService service) : IClassFixture<FleetService>
{
    private const int Crowd = 24;
    private const int Batches = 20;

    [Fact]
    public async Task Facts_are_taken_in_while_calculations_crowd()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();

        Task<Answer>[] calculations =
            [.. Enumerable.Range(1, Crowd).Select(seed => organisation.Office.PostAsync("/v1/calculations/expected", LongCalculation(seed)))];
        for (int i = 0; i < Batches; i++) Assert.Equal(1, (await device.TellAsync(Some.SiteOpened($"site-{i}"))).Recorded);

        Assert.Contains(calculations, calculation => !calculation.IsCompleted);
        Answer[] answers = await Task.WhenAll(calculations);
        Assert.All(answers, answer => Assert.True(answer.Status is HttpStatusCode.OK or HttpStatusCode.TooManyRequests, answer.Text));
        Assert.Contains(answers, answer => answer.Status == HttpStatusCode.OK);
        Assert.All(answers.Where(answer => answer.Status != HttpStatusCode.OK), answer =>
        {
            Assert.Equal(ProblemTypes.TooBusy, answer.As<Problem>().Type);
            Assert.NotNull(answer.Headers.RetryAfter);
        });
    }

    // Some seconds of work.
    private static JsonObject LongCalculation(int seed)
    {
        JsonObject asked = WorkedExamples.Request("expected.simulated");
        asked["simulation"] = new JsonObject { ["seed"] = seed, ["mostTrials"] = 1_000_000, ["significantDigits"] = 2 };
        return asked;
    }
}
