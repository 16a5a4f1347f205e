using System.Net;
using System.Net.Sockets;
using FleetLight.FieldAgent.Local;
using FleetLight.FieldAgent.Tests.Agents;
using Microsoft.AspNetCore.Http;

namespace FleetLight.FieldAgent.Tests.Local;

public class LocalGuardTests
{
    private const int Port = 5090;
    private const string Token = "0123456789abcdef";

    [Theory]
    [InlineData("127.0.0.1", "127.0.0.1:5090", "Bearer 0123456789abcdef", null, null)]
    [InlineData("::1", "localhost:5090", "Bearer 0123456789abcdef", null, null)]
    [InlineData("::1", "[::1]:5090", "Bearer 0123456789abcdef", null, null)]
    [InlineData("10.0.0.7", "127.0.0.1:5090", "Bearer 0123456789abcdef", null, 403)]
    [InlineData("127.0.0.1", "attacker.example:5090", "Bearer 0123456789abcdef", null, 421)]
    [InlineData("127.0.0.1", "127.0.0.1", "Bearer 0123456789abcdef", null, 421)]
    [InlineData("127.0.0.1", "127.0.0.1:5091", "Bearer 0123456789abcdef", null, 421)]
    [InlineData("127.0.0.1", "127.0.0.1.attacker.example:5090", "Bearer 0123456789abcdef", null, 421)]
    [InlineData("127.0.0.1", "127.0.0.1:5090", "Bearer 0123456789abcdef", "http://127.0.0.1:5090", 403)]
    [InlineData("127.0.0.1", "127.0.0.1:5090", "Bearer 0123456789abcdee", null, 401)]
    [InlineData("127.0.0.1", "127.0.0.1:5090", "Bearer ", null, 401)]
    [InlineData("127.0.0.1", "127.0.0.1:5090", "0123456789abcdef", null, 401)]
    [InlineData("127.0.0.1", "127.0.0.1:5090", null, null, 401)]
    public void Only_programs_of_this_machine_that_know_the_token_are_let_in(string from, string host, string? shown, string? origin, int? status)
    {
        var headers = new HeaderDictionary();
        if (shown is not null) headers["Authorization"] = shown;
        if (origin is not null) headers["Origin"] = origin;
        Assert.Equal(status, LocalGuard.Check(IPAddress.Parse(from), host, headers, Port, Token)?.Status);
    }

    [Fact]
    public async Task The_agent_listens_on_the_loopback_address_whatever_the_environment_asks_for()
    {
        using var folder = new AgentFolder();
        Environment.SetEnvironmentVariable("ASPNETCORE_URLS", "http://0.0.0.0:0");
        Environment.SetEnvironmentVariable("Kestrel__Endpoints__All__Url", "http://0.0.0.0:0");
        try
        {
            await using var agent = await folder.StartAsync();
            var port = agent.Http!.BaseAddress!.Port;
            Assert.Equal("127.0.0.1", agent.Http.BaseAddress.Host);
            var other = (await Dns.GetHostAddressesAsync(Dns.GetHostName(), TestContext.Current.CancellationToken))
                .FirstOrDefault(address => address.AddressFamily == AddressFamily.InterNetwork && !IPAddress.IsLoopback(address));
            Assert.SkipWhen(other is null, "This machine has the loopback address only.");
            using var socket = new TcpClient();
            await Assert.ThrowsAnyAsync<SocketException>(async () => await socket.ConnectAsync(other!, port, TestContext.Current.CancellationToken));
        }
        finally
        {
            Environment.SetEnvironmentVariable("ASPNETCORE_URLS", null);
            Environment.SetEnvironmentVariable("Kestrel__Endpoints__All__Url", null);
        }
    }

    [Fact]
    public async Task The_token_is_readable_by_its_user_only_and_stays_over_restarts()
    {
        using var folder = new AgentFolder();
        var path = Path.Combine(folder.Path, "local-token");
        await using (await folder.StartAsync())
        {
        }

        var token = await File.ReadAllTextAsync(path, TestContext.Current.CancellationToken);
        Assert.True(folder.IsPrivate("local-token"));
        await using var again = await folder.StartAsync();
        Assert.Equal(token, await File.ReadAllTextAsync(path, TestContext.Current.CancellationToken));
        using var without = new HttpClient { BaseAddress = again.Http!.BaseAddress };
        Assert.Equal(HttpStatusCode.Unauthorized, (await without.GetAsync("v1/status", TestContext.Current.CancellationToken)).StatusCode);
        Assert.DoesNotContain(token.Trim(), again.Log, StringComparison.Ordinal);
    }
}
