using FleetLight.Contracts.Calculations;
using FleetLight.Service.Hosting;
using Microsoft.AspNetCore.Http.Timeouts;
using Microsoft.AspNetCore.HttpOverrides;

namespace FleetLight.Service.Limits;

/// <summary>How large a request may be, how slowly it may come and how long it may take.</summary>
public static class RequestLimits
{
    /// <summary>How long the service works on a request, streams of changes apart. The longest calculation seen took 5 s.</summary>
    public static readonly TimeSpan Longest = TimeSpan.FromSeconds(60);

    /// <summary>How long a picture may take to come, over a weak signal.</summary>
    public static readonly TimeSpan LongestUpload = TimeSpan.FromMinutes(10);

    /// <summary>Name of that limit.</summary>
    public const string Upload = "upload";

    /// <summary>Adds them.</summary>
    public static void AddRequestLimits(this WebApplicationBuilder builder)
    {
        builder.WebHost.ConfigureKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;
            // What a path takes is less and is told as a problem; this holds for whatever does not ask.
            kestrel.Limits.MaxRequestBodySize = CalculationLimits.MostBytes + 1;
            kestrel.Limits.MaxRequestHeadersTotalSize = 32 * 1024;
            kestrel.Limits.MaxRequestHeaderCount = 64;
            kestrel.Limits.MaxRequestLineSize = 8 * 1024;
            kestrel.Limits.RequestHeadersTimeout = TimeSpan.FromSeconds(15);
            // A device at the edge of its network sends slower than an office, and not slower than this.
            kestrel.Limits.MinRequestBodyDataRate = new(bytesPerSecond: 240, gracePeriod: TimeSpan.FromSeconds(10));
            kestrel.Limits.MinResponseDataRate = new(bytesPerSecond: 240, gracePeriod: TimeSpan.FromSeconds(10));
            kestrel.Limits.MaxConcurrentConnections = builder.Configuration.GetValue("FLEETLIGHT_MOST_CONNECTIONS", 10_000L);
        });
        builder.Services.AddRequestTimeouts(timeouts =>
        {
            timeouts.DefaultPolicy = Within(Longest);
            timeouts.AddPolicy(Upload, Within(LongestUpload));
        });
    }

    private static RequestTimeoutPolicy Within(TimeSpan longest) => new()
    {
        Timeout = longest,
        TimeoutStatusCode = StatusCodes.Status503ServiceUnavailable,
        WriteTimeoutResponse = context =>
        {
            context.Response.Headers.RetryAfter = "5";
            return Problems.WriteAsync(context, Problems.TookTooLong());
        },
    };

    /// <summary>
    /// Takes the caller's address and scheme from the proxy in front, where <c>FLEETLIGHT_TRUSTED_PROXIES</c> names its network
    /// (several with commas); from nobody else, who could write there what they like.
    /// </summary>
    public static void UseTrustedProxies(this WebApplication app)
    {
        if (app.Configuration["FLEETLIGHT_TRUSTED_PROXIES"] is not { Length: > 0 } trusted) return;
        var options = new ForwardedHeadersOptions
        {
            ForwardedHeaders = ForwardedHeaders.XForwardedFor | ForwardedHeaders.XForwardedProto | ForwardedHeaders.XForwardedHost,
        };
        options.KnownIPNetworks.Clear();
        options.KnownProxies.Clear();
        foreach (var network in trusted.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
            options.KnownIPNetworks.Add(System.Net.IPNetwork.Parse(network));
        app.UseForwardedHeaders(options);
    }
}
