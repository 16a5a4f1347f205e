using System.Net;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Intake;
using FleetLight.Service.Tests.Approvals;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Intake;

/// <summary>
/// Whatever is wrong with one fact: it is refused with a problem that names the field and the remedy, it is set aside as it
/// was sent, and its neighbours in the batch are recorded.
/// </summary>
public sealed class BadFactTests(FleetService service) : IClassFixture<FleetService>
{
    public static TheoryData<string> Numbers => Names(BadNumbers.All);

    public static TheoryData<string> Envelopes => Names(BadEnvelopes.All);

    public static TheoryData<string> Data => Names(BadData.All);

    public static TheoryData<string> Texts => Names(BadTexts.All);

    [Theory]
    [MemberData(nameof(Numbers))]
    public Task A_bad_number_costs_its_fact_only(string name) => RefusedAloneAsync(BadNumbers.All, name);

    [Theory]
    [MemberData(nameof(Envelopes))]
    public Task A_bad_envelope_costs_its_fact_only(string name) => RefusedAloneAsync(BadEnvelopes.All, name);

    [Theory]
    [MemberData(nameof(Data))]
    public Task Bad_data_costs_its_fact_only(string name) => RefusedAloneAsync(BadData.All, name);

    [Theory]
    [MemberData(nameof(Texts))]
    public Task Bad_text_costs_its_fact_only(string name) => RefusedAloneAsync(BadTexts.All, name);

    private async Task RefusedAloneAsync(IReadOnlyList<BadFact> all, string name)
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        SentEvent before = device.Record(Some.SiteOpened());
        SentEvent bad = all.Single(each => each.Name == name).Spoil(device);
        SentEvent after = device.Record(Some.BoxSealed());

        Answer answer = await device.PostAsync(before, bad, after);

        BatchReceipt receipt = answer.Expect(HttpStatusCode.OK).As<BatchReceipt>();
        Assert.Equal([FactOutcome.Recorded, FactOutcome.Refused, FactOutcome.Recorded], receipt.Outcomes.Select(each => each.Outcome));
        EventOutcome outcome = receipt.Outcomes[1];
        Approved.Same("BadFacts", name, outcome.Problem!);
        Assert.NotNull(outcome.Problem!.Remedy);
        RefusedFact aside = Assert.Single((await organisation.Office.ReadAsync<Page<RefusedFact>>("/v1/refused")).Items);
        Assert.Equal(outcome.RefusedId, aside.Id);
        Assert.Equal(outcome.Problem, aside.Problem);
        Assert.Equal(bad.Text.Trim(), aside.Text);
    }

    private static TheoryData<string> Names(IEnumerable<BadFact> all) => [.. all.Select(each => each.Name)];
}
