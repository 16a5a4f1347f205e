using System.Net;
using System.Text;
using FleetLight.Contracts.Wire;
using FleetLight.FieldAgent.Outbox;
using FleetLight.FieldAgent.Receiving;
using FleetLight.FieldAgent.Sending;
using Microsoft.AspNetCore.Diagnostics;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;

namespace FleetLight.FieldAgent.Local;

/// <summary>The agent as it runs: the sender, the receiver, and the API on the loopback address.</summary>
internal static class AgentHost
{
    private const int MostBodyBytes = 8 * 1024 * 1024;

    /// <summary>Runs until it is ended; answers the exit code.</summary>
    public static async Task<int> RunAsync(AgentParts parts, CancellationToken cancel)
    {
        var token = LocalToken.Of(parts.Options.Folder);
        var builder = WebApplication.CreateEmptyBuilder(new WebApplicationOptions());
        builder.Logging.AddSimpleConsole(console =>
        {
            console.SingleLine = true;
            console.TimestampFormat = "yyyy-MM-ddTHH:mm:ss.fffzzz ";
        });
        // Requests carry the key, or the token, in their headers: what the frameworks would say of each is not kept.
        builder.Logging.SetMinimumLevel(LogLevel.Information).AddFilter("Microsoft", LogLevel.Warning).AddFilter("System", LogLevel.Warning);
        builder.Services.AddSystemd();
        builder.Services.AddRoutingCore();
        builder.Services.AddSingleton(parts);
        builder.Services.AddSingleton(parts.Options);
        builder.Services.AddSingleton(parts.Clock);
        builder.Services.AddSingleton(parts.Faults);
        builder.Services.AddSingleton(parts.Outbox);
        builder.Services.AddSingleton(parts.Desk);
        builder.Services.AddSingleton(parts.Outgoing);
        builder.Services.AddSingleton(parts.Identities);
        builder.Services.AddSingleton<FatalEnd>();
        builder.Services.AddHostedService<SendingWorker>();
        builder.Services.AddHostedService<ReceivingWorker>();
        // Loopback and nothing else: no setting and no variable of the environment adds an address.
        builder.WebHost.UseKestrelCore().ConfigureKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;
            kestrel.Limits.MaxRequestBodySize = MostBodyBytes;
            kestrel.Listen(IPAddress.Loopback, parts.Options.Port);
        });

        await using var app = builder.Build();
        app.UseExceptionHandler(new ExceptionHandlerOptions { ExceptionHandler = context => FailAsync(context) });
        var port = 0;
        app.Use((context, next) => LocalGuard.Check(
            context.Connection.RemoteIpAddress, context.Request.Host.Value ?? "", context.Request.Headers, port, token) is { } problem
                ? LocalApi.Fault(problem).ExecuteAsync(context)
                : next(context));
        app.UseRouting();
        app.MapLocal();
        app.MapSites();
        await app.StartAsync(cancel);
        var address = new Uri(app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.Single());
        port = address.Port;
        PrivateFiles.Replace(Path.Combine(parts.Options.Folder, LocalToken.AddressFileName), Encoding.ASCII.GetBytes($"{address}\n"), _ => { });
        app.Services.GetRequiredService<ILogger<AgentParts>>().LogInformation(
            "The agent listens on {Address} and keeps its outbox in {Folder}", address, parts.Options.Folder);
        await app.WaitForShutdownAsync(cancel);
        return app.Services.GetRequiredService<FatalEnd>().ExitCode;
    }

    private static Task FailAsync(HttpContext context)
    {
        var failed = context.Features.Get<IExceptionHandlerFeature>()?.Error;
        if (failed is OutboxDamagedException damaged) context.RequestServices.GetRequiredService<FatalEnd>().Damaged(damaged);
        var problem = failed switch
        {
            OutboxDamagedException or OutboxBlockedException or InvalidDataException => Problems.Unavailable(failed.Message),
            BadHttpRequestException bad => Problems.Unreadable("The request is too large or was cut short.") with { Status = bad.StatusCode },
            _ => new Problem { Type = ProblemTypes.Internal, Title = "Something went wrong inside the agent", Status = 500 },
        };
        return LocalApi.Fault(problem).ExecuteAsync(context);
    }
}
