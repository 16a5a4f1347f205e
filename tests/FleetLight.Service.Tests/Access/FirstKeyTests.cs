using System.Net;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Access;

public sealed class FirstKeyTests(FleetService service) : IClassFixture<FleetService>
{
    [Fact]
    public void The_file_of_the_first_key_is_its_owners_alone()
    {
        if (OperatingSystem.IsWindows()) Assert.Skip("Windows keeps no such rights.");
        else Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(service.FirstKeyFile));
    }

    [Fact]
    public async Task A_second_start_makes_no_second_first_key()
    {
        string before = await File.ReadAllTextAsync(service.FirstKeyFile, TestContext.Current.CancellationToken);

        await using RunningService again = await service.StartSecondAsync();

        Assert.Equal(before, await File.ReadAllTextAsync(service.FirstKeyFile, TestContext.Current.CancellationToken));
        Assert.Equal(HttpStatusCode.OK, (await again.Api.With(service.Host.Key).GetAsync("/v1/keys")).Status);
    }

    [Fact]
    public async Task The_first_key_hands_no_facts_in()
    {
        Answer answer = await service.Host.PostAsync("/v1/events", "[]", "application/cloudevents-batch+json");

        Assert.Equal(HttpStatusCode.Forbidden, answer.Status);
    }
}
