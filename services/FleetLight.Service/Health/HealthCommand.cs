namespace FleetLight.Service.Health;

/// <summary>
/// Asks a running service whether it is ready, for container engines: the image needs no other program for it. Started with
/// the word <c>health</c>, the service does this and ends.
/// </summary>
public static class HealthCommand
{
    /// <summary>The word.</summary>
    public const string Word = "health";

    private static readonly TimeSpan Most = TimeSpan.FromSeconds(10);

    /// <summary>0 where the service answers that it is ready, else 1; what it said goes to the output.</summary>
    /// <param name="args">After the word perhaps an address; else the service listens on this machine, where its own settings say.</param>
    /// <param name="output">Where the answer goes.</param>
    public static async Task<int> RunAsync(IReadOnlyList<string> args, TextWriter output)
    {
        var address = args.Count > 1 ? args[1] : Address();
        try
        {
            using var http = new HttpClient { Timeout = Most };
            using var answer = await http.GetAsync(new Uri(new Uri(address), "/health/ready"));
            await output.WriteLineAsync(await answer.Content.ReadAsStringAsync());
            return answer.IsSuccessStatusCode ? 0 : 1;
        }
        catch (Exception failed) when (failed is HttpRequestException or TaskCanceledException or UriFormatException)
        {
            await output.WriteLineAsync(failed.Message);
            return 1;
        }
    }

    private static string Address()
    {
        var port = Environment.GetEnvironmentVariable("ASPNETCORE_HTTP_PORTS")?.Split(';')[0] is { Length: > 0 } ports ? ports : "8080";
        return $"http://127.0.0.1:{port}";
    }
}
