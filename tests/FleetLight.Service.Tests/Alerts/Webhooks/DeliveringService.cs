using FleetLight.Service.Alerts;
using FleetLight.Service.Tests.Hosting;
using Microsoft.Extensions.DependencyInjection;

namespace FleetLight.Service.Tests.Alerts.Webhooks;

/// <summary>
/// A service that looks for deliveries all the time. Its clock stands a little ahead of the true time, so that what the
/// database stamps is due and a receiver finds the signature fresh; a test that waits for the next attempt puts it on.
/// </summary>
public sealed class DeliveringService() : FleetService(DateTimeOffset.UtcNow.AddMinutes(2))
{
    /// <summary>How deliveries are tried here: soon, and three times.</summary>
    public static readonly DeliveryOptions Options = new()
    {
        LookEvery = TimeSpan.FromMilliseconds(50),
        ShortWait = TimeSpan.FromMilliseconds(1),
        Timeout = TimeSpan.FromSeconds(2),
        FirstWait = TimeSpan.FromMinutes(1),
        MostAttempts = 3,
    };

    /// <summary>Puts the clock on past the wait for the next attempt, however long it is.</summary>
    public void WaitForNextAttempt() => Clock.Advance(Options.Wait(Options.MostAttempts));

    protected override void Configure(IServiceCollection services) => services.AddSingleton(Options);
}
