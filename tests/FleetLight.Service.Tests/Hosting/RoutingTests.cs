using System.Net;
using FleetLight.Service.Tests.Approvals;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Hosting;

public sealed class RoutingTests(FleetService service) : IClassFixture<FleetService>
{
    [Theory]
    [InlineData("/overview")]
    [InlineData("/v1")]
    [InlineData("/v2/events")]
    [InlineData("/v1/lamps.json")]
    public async Task A_path_that_is_not_there_is_said_so_to_anybody(string path)
    {
        Answer answer = await service.Anybody.GetAsync(path);

        Approved.Same("Routing", "no such path", answer);
    }

    [Fact]
    public async Task A_method_that_a_path_does_not_take_is_said_so()
    {
        Answer answer = await service.Host.DeleteAsync("/v1/circuits");

        Approved.Same("Routing", "another method", answer);
    }

    [Fact]
    public async Task A_body_of_another_content_type_is_not_taken_by_the_office_either()
    {
        Answer answer = await service.Host.PostAsync("/v1/keys", "name=me", "application/x-www-form-urlencoded");

        Assert.Equal(HttpStatusCode.UnsupportedMediaType, answer.Status);
        Approved.Same("Routing", "another content type", answer);
    }

    [Fact]
    public async Task An_answer_does_not_tell_what_serves_it()
    {
        Answer answer = await service.Anybody.GetAsync("/health/live");

        Assert.False(answer.Headers.Contains("Server"));
        Assert.False(answer.Headers.Contains("X-Powered-By"));
    }

    [Theory]
    [InlineData("/v1/circuits?limit=ten")]
    [InlineData("/v1/changes?limit=1.5")]
    public async Task A_parameter_of_another_kind_is_a_problem_and_no_fault(string path)
    {
        Answer answer = await service.Host.GetAsync(path);

        Approved.Same("Routing", "a parameter of another kind", answer);
    }
}
