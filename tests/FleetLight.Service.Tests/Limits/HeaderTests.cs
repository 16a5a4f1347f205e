using System.Net;
using FleetLight.Service.Hosting;
using FleetLight.Service.Tests.Access;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Limits;

/// <summary>Headers that keep browsers from misusing an answer.</summary>
public sealed class HeaderTests(FleetService service) : IClassFixture<FleetService>
{
    [Fact]
    public async Task Every_answer_of_every_operation_carries_them()
    {
        Owner owner = await Owner.AddAsync(service);
        foreach (Operation operation in await Operation.AllAsync(service.Anybody))
        {
            foreach (ApiClient api in (ApiClient[])[service.Anybody, owner.Of(operation)])
            {
                Answer answer = await operation.CallAsync(api, name => operation.Method == "GET" ? owner.Parameter(operation.Path, name) : "x");

                AssertSafe(operation.ToString(), answer);
                Assert.Equal(SafeHeaders.ApiPolicy, Assert.Single(answer.Headers.GetValues("Content-Security-Policy")));
                // A picture never changes, so its reader may keep it, under the key that it was read with.
                bool isKept = answer.Headers.CacheControl is { Private: true } && answer.MediaType == "image/png" && answer.Headers.Vary.Contains("Authorization");
                if (operation.Path.StartsWith("/v1/", StringComparison.Ordinal))
                {
                    Assert.True(
                        isKept || answer.Headers.CacheControl is { NoStore: true } or { Private: true, NoCache: true }, $"{operation}: {answer.Headers.CacheControl}");
                }
            }
        }
    }

    [Theory]
    [InlineData("/docs/index.html", SafeHeaders.DocsPolicy)]
    [InlineData("/nothing-there", SafeHeaders.ApiPolicy)]
    public async Task Pages_carry_a_policy_of_their_own(string path, string policy)
    {
        Answer answer = await service.Anybody.GetAsync(path);

        AssertSafe(path, answer);
        Assert.Equal(policy, Assert.Single(answer.Headers.GetValues("Content-Security-Policy")));
    }

    [Fact]
    public async Task The_page_of_the_description_has_nothing_that_its_policy_forbids()
    {
        string page = (await service.Anybody.GetAsync("/docs/index.html")).Text;

        Assert.DoesNotContain("<script>", page, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("onload=", page, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("src=\"http", page, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task No_answer_is_shared_with_pages_from_elsewhere()
    {
        Answer answer = await service.Host.GetAsync("/v1/circuits", ("Origin", "https://elsewhere.example"));

        Assert.False(answer.Headers.Contains("Access-Control-Allow-Origin"));
    }

    private static void AssertSafe(string what, Answer answer)
    {
        Assert.True(answer.Headers.TryGetValues("X-Content-Type-Options", out IEnumerable<string>? sniff) && sniff.Single() == "nosniff", what);
        Assert.Equal("no-referrer", Assert.Single(answer.Headers.GetValues("Referrer-Policy")));
        Assert.Equal("same-origin", Assert.Single(answer.Headers.GetValues("Cross-Origin-Resource-Policy")));
        Assert.False(answer.Headers.Contains("Server"), what);
        Assert.NotEqual(HttpStatusCode.InternalServerError, answer.Status);
    }
}
