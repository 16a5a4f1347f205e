using FleetLight.Service.Access;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Access;

public sealed class SecretTests(FleetService service) : IClassFixture<FleetService>
{
    [Fact]
    public async Task Nothing_in_the_database_and_no_log_line_holds_a_key_that_was_made_and_used()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        await device.TellAsync(Some.SiteOpened());
        await service.CaughtUpAsync();
        string[] secrets = [.. new[] { service.Host.Key!, organisation.Office.Key!, device.Api.Key! }.Select(key => key.Split('.')[1])];

        string database = await Rows.AllAsync(service);

        Assert.Contains(device.Api.Key!.Split('.')[0], database, StringComparison.Ordinal);
        Assert.Contains(KeyText.Hash(device.Api.Key!), database, StringComparison.Ordinal);
        foreach (string secret in secrets)
        {
            Assert.DoesNotContain(secret, database, StringComparison.OrdinalIgnoreCase);
            Assert.DoesNotContain(service.Log.All, line => line.Text.Contains(secret, StringComparison.Ordinal));
        }
    }

    [Fact]
    public async Task No_endpoint_puts_a_key_or_a_code_into_a_log_line_a_figure_or_an_answer()
    {
        Owner owner = await Owner.AddAsync(service);
        Organisation organisation = owner.Organisation;
        string rotated = (string)(await service.Anybody.With(await organisation.MakeKeyAsync("read-status")).PostAsync("/v1/keys/self/rotate")).Json["key"]!;
        string used = (string)(await owner.Office.PostAsync("/v1/enrolments", new { name = "used", role = "device" })).Json["code"]!;
        string enrolled = (string)(await service.Anybody.PostAsync("/v1/enrolments/exchange", new { code = used })).Json["key"]!;
        string open = (string)(await owner.Office.PostAsync("/v1/enrolments", new { name = "open", role = "device" })).Json["code"]!;
        string webhook = (string)(await owner.Office.PostAsync("/v1/webhooks", new { url = "http://127.0.0.1:9/secret" })).Json["secret"]!;
        string[] keys = [service.Host.Key!, owner.Office.Key!, owner.Device.Api.Key!, rotated, enrolled];
        string[] secrets =
        [
            .. keys.Select(key => key.Split('.')[1]), .. keys.Select(KeyText.Hash),
            used, open, .. new[] { used, open }.Select(code => code.Replace("-", "", StringComparison.Ordinal)),
            .. new[] { used, open }.Select(code => KeyText.Hash(EnrolmentCode.Normal(code)!)), webhook["whsec_".Length..],
        ];

        List<(Operation Operation, Answer Answer)> answers = [];
        foreach (Operation operation in await Operation.AllAsync(service.Anybody))
        {
            foreach (string key in keys)
            {
                // Ids of nothing, so that what is tried changes nothing; what only reads is asked for what is there.
                Func<string, string> parameter = operation.Method == "GET" ? name => owner.Parameter(operation.Path, name) : _ => "x";
                if (operation.Path != "/v1/keys/self/rotate") answers.Add((operation, await operation.CallAsync(service.Anybody.With(key), parameter)));
                answers.Add((operation, await operation.CallAsync(service.Anybody.With(key[..^1]), parameter)));
                answers.Add((operation, await operation.CallAsync(service.Anybody, parameter, key)));
            }
        }

        // Where a code or a key does not belong: in a path, in a parameter, in a body that is wrong.
        foreach (string secret in keys.Append(used).Append(open))
        {
            answers.Add((answers[0].Operation, await service.Anybody.PostAsync("/v1/enrolments/exchange", new { code = secret, more = secret })));
            answers.Add((answers[0].Operation, await service.Anybody.PostAsync("/v1/enrolments/exchange", new { code = secret[..^1] })));
        }

        foreach (string secret in secrets)
        {
            Assert.All(answers, each => Assert.False(each.Answer.Text.Contains(secret, StringComparison.OrdinalIgnoreCase), $"{each.Operation} shows a secret."));
            Assert.DoesNotContain(service.Log.All, line => (line.Text + line.Fault).Contains(secret, StringComparison.OrdinalIgnoreCase));
        }

        string database = await Rows.AllAsync(service);
        string[] hidden = [used, open, used.Replace("-", "", StringComparison.Ordinal), webhook["whsec_".Length..]];
        foreach (string secret in keys.Select(key => key.Split('.')[1]).Concat(hidden))
            Assert.DoesNotContain(secret, database, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task A_key_is_shown_once_when_it_is_made_and_never_listed()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        string key = await organisation.MakeKeyAsync("read-status");

        Answer listed = await organisation.Office.GetAsync("/v1/keys");

        Assert.Contains(key.Split('.')[0], listed.Text, StringComparison.Ordinal);
        Assert.DoesNotContain(key.Split('.')[1], listed.Text, StringComparison.Ordinal);
        Assert.DoesNotContain(KeyText.Hash(key), listed.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Two_keys_share_nothing()
    {
        (string Id, string Text)[] keys = [.. Enumerable.Range(0, 100).Select(_ => KeyText.Make())];

        Assert.Equal(100, keys.Select(key => key.Id).Distinct().Count());
        Assert.All(keys, key => Assert.Equal(43, key.Text.Split('.')[1].Length));
        Assert.Equal(100, keys.Select(key => key.Text.Split('.')[1]).Distinct().Count());
    }
}
