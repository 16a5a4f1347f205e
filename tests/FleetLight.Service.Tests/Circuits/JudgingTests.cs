using System.Net;
using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Microsoft.Extensions.DependencyInjection;
using Npgsql;
using Xunit;
using IProjectionCoordinator = Marten.Events.Daemon.Coordination.IProjectionCoordinator;

namespace FleetLight.Service.Tests.Circuits;

/// <summary>An organisation sets how its circuits are judged.</summary>
public sealed class JudgingTests(FleetService service) : IClassFixture<FleetService>
{
    private const string Path = "/v1/judging";

    [Fact]
    public async Task The_defaults_are_in_force_until_something_is_set()
    {
        Organisation organisation = await Organisation.CreateAsync(service.Host);

        JudgingView judging = await organisation.Office.ReadAsync<JudgingView>(Path);

        Assert.Equal((0, null, null), (judging.Version, judging.SetAt, judging.SetBy));
        Assert.Equal(new JudgingSettings(), judging.Settings);
    }

    [Fact]
    public async Task Settings_reach_circuits_that_were_there_before_and_those_that_come_after()
    {
        Organisation organisation = await Organisation.CreateAsync(service.Host);
        Device device = await organisation.AddDeviceAsync();
        await device.TellAsync(Some.CircuitDesigned(), Some.CablePulled());
        await service.CaughtUpAsync();
        double cold = await LoopOhmsAsync(organisation, Some.Circuit);

        JudgingView set = (await PutAsync(organisation, new JudgingSettings { BuriedCelsius = 45 })).Expect(HttpStatusCode.OK).As<JudgingView>();
        await device.TellAsync(Some.CircuitDesigned("circuit-2", cable: null));
        await service.CaughtUpAsync();

        Assert.Equal((1, "office"), (set.Version, set.SetBy));
        // 30 K at 0.00393 per kelvin (IEC 60028), against the resistance at 15 °C.
        double warm = await LoopOhmsAsync(organisation, Some.Circuit);
        Assert.Equal((1 + (0.00393 * 25)) / (1 - (0.00393 * 5)), warm / cold, 0.0005);
        Assert.Equal(warm, await LoopOhmsAsync(organisation, "circuit-2"), 0.001);
        Assert.Equal(set.Settings, (await organisation.Office.ReadAsync<JudgingView>(Path)).Settings);
    }

    [Fact]
    public async Task A_circuit_that_was_on_its_way_into_its_state_when_settings_were_made_goes_by_them()
    {
        Organisation organisation = await Organisation.CreateAsync(service.Host);
        Device device = await organisation.AddDeviceAsync();
        IProjectionCoordinator daemon = service.Running.Services.GetRequiredService<IProjectionCoordinator>();
        await daemon.PauseAsync();
        await device.TellAsync(Some.CircuitDesigned(cable: null));
        Task<Answer> putting;
        await using (NpgsqlConnection holder = new(service.ConnectionString))
        {
            // The setting has looked up the circuits, this one not among them, and cannot be written yet.
            await holder.OpenAsync(TestContext.Current.CancellationToken);
            await using NpgsqlTransaction held = await holder.BeginTransactionAsync(TestContext.Current.CancellationToken);
            await using NpgsqlCommand hold = new("insert into fleetlight.mt_streams (tenant_id, id, version) values ($1, 'judging:settings', 1)", holder, held);
            hold.Parameters.Add(new NpgsqlParameter { Value = organisation.Name });
            await hold.ExecuteNonQueryAsync(TestContext.Current.CancellationToken);
            putting = PutAsync(organisation, new JudgingSettings { BuriedCelsius = 45 });
            await Eventually.IsSoAsync(
                async () => (await service.QueryAsync<long>(
                    "select count(*) from pg_stat_activity where datname = current_database() and wait_event_type = 'Lock'")).Single() > 0,
                "the setting to wait");
            await daemon.ResumeAsync();
            await Eventually.IsSoAsync(
                async () => (await organisation.Office.GetAsync($"/v1/circuits/{Some.Circuit}")).Status == HttpStatusCode.OK, "the circuit to be folded");
        }

        (await putting).Expect(HttpStatusCode.OK);
        await service.CaughtUpAsync();

        Assert.Equal(45, (await organisation.Office.ReadAsync<CircuitModelView>($"/v1/circuits/{Some.Circuit}/model")).Assumptions.Buried!.Celsius);
    }

    [Fact]
    public async Task Efforts_and_priors_are_kept_and_show_in_the_circuits_model()
    {
        Organisation organisation = await Organisation.CreateAsync(service.Host);
        Device device = await organisation.AddDeviceAsync();
        await device.TellAsync(Some.CircuitDesigned());
        await service.CaughtUpAsync();

        await PutAsync(organisation, new JudgingSettings
        {
            Effort = new EffortInput { DigMinutes = 90 },
            Priors = [new PriorInput { Fault = KindOfFault.OpenLoop, Prior = 0.02 }],
        });
        await service.CaughtUpAsync();

        CircuitModelView model = await organisation.Office.ReadAsync<CircuitModelView>($"/v1/circuits/{Some.Circuit}/model");
        Assert.Equal((90, 1), (model.Effort.DigMinutes, model.SettingsVersion));
        Assert.Equal(0.02, Assert.Single(model.LookFor.Priors!).Prior);
        Assert.Equal(90, (await organisation.Office.ReadAsync<JudgingView>(Path)).Settings.Effort!.DigMinutes);
    }

    [Fact]
    public async Task What_is_left_out_goes_back_to_its_default()
    {
        Organisation organisation = await Organisation.CreateAsync(service.Host);
        Device device = await organisation.AddDeviceAsync();
        await device.TellAsync(Some.CircuitDesigned(), Some.CablePulled());
        await service.CaughtUpAsync();
        double before = await LoopOhmsAsync(organisation, Some.Circuit);

        await PutAsync(organisation, new JudgingSettings { BuriedCelsius = 45 });
        JudgingView back = (await PutAsync(organisation, new JudgingSettings())).Expect(HttpStatusCode.OK).As<JudgingView>();
        await service.CaughtUpAsync();

        Assert.Equal(2, back.Version);
        Assert.Equal(before, await LoopOhmsAsync(organisation, Some.Circuit));
    }

    [Fact]
    public async Task Another_organisation_is_not_touched()
    {
        Organisation one = await Organisation.CreateAsync(service.Host);
        Organisation other = await Organisation.CreateAsync(service.Host);

        await PutAsync(one, new JudgingSettings { FalseAlarmPercent = 1 });

        Assert.Equal(0, (await other.Office.ReadAsync<JudgingView>(Path)).Version);
    }

    [Theory]
    [InlineData("""{"falseAlarmPercent":0}""", "falseAlarmPercent")]
    [InlineData("""{"catalogueWatts":[1,900]}""", "catalogueWatts[1]")]
    [InlineData("""{"driverMilliamps":[]}""", "driverMilliamps")]
    [InlineData("""{"buriedCelsius":200}""", "buriedCelsius")]
    [InlineData("""{"effort":{"digMinutes":20000}}""", "effort.digMinutes")]
    [InlineData("""{"priors":[{"fault":"open-loop","prior":0.1},{"fault":"open-loop","prior":0.2}]}""", "priors[1].fault")]
    public async Task A_setting_out_of_range_is_named(string body, string field)
    {
        Organisation organisation = await Organisation.CreateAsync(service.Host);

        Answer answer = await organisation.Office.SendAsync(HttpMethod.Put, Path, new StringContent(body, System.Text.Encoding.UTF8, "application/json"));

        Assert.Equal(HttpStatusCode.BadRequest, answer.Status);
        Assert.Equal(field, answer.As<Problem>().Field);
        Assert.Equal(0, (await organisation.Office.ReadAsync<JudgingView>(Path)).Version);
    }

    private static async Task<double> LoopOhmsAsync(Organisation organisation, string circuit) =>
        (await organisation.Office.ReadAsync<CircuitView>($"/v1/circuits/{circuit}")).Expected
        .Single(each => each.Quantity == Contracts.ReadingQuantity.LoopOhms).Expected.Value;

    private static Task<Answer> PutAsync(Organisation organisation, JudgingSettings settings) =>
        organisation.Office.SendAsync(
            HttpMethod.Put, Path, new StringContent(System.Text.Json.JsonSerializer.Serialize(settings, WireJson.Lenient), System.Text.Encoding.UTF8, "application/json"));
}
