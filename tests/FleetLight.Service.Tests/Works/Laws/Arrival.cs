using FleetLight.Contracts.Wire;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Works.Laws;

/// <summary>
/// The way of a history into a service: in some order, some of it twice or thrice, in batches of several devices at once,
/// with the projection now behind and now up to date.
/// </summary>
internal static class Arrival
{
    /// <summary>Hands the history in; every fact of it ends up recorded.</summary>
    /// <param name="service">The service.</param>
    /// <param name="organisation">Name of the organisation to make.</param>
    /// <param name="history">The history.</param>
    /// <param name="seed">Seed of the order, the batches and the doubles.</param>
    /// <param name="between">What happens to the service between batches, now and then.</param>
    public static async Task<Organisation> ComeAsync(FleetService service, string organisation, History history, int seed, Func<Task>? between = null)
    {
        Dice dice = new(seed);
        Organisation made = await service.AddOrganisationAsync(organisation);
        string[] keys = [.. (await Task.WhenAll(History.Sources.Select(made.AddDeviceAsync))).Select(device => device.Api.Key!)];
        Queue<(int Device, SentEvent[] Events)> batches = new(Cut(history, dice));
        int recorded = 0;
        while (batches.Count > 0)
        {
            // Made anew each time: a service that was started again listens elsewhere.
            Device[] devices = [.. keys.Zip(History.Sources, (key, source) => new Device(service.Anybody.With(key), source))];
            List<Task<BatchReceipt>> atOnce = [];
            for (int count = 1 + dice.Below(4); count > 0 && batches.TryDequeue(out var batch); count--)
                atOnce.Add(devices[batch.Device].SendAsync(service.Clock.Now + History.ClockErrors[batch.Device], batch.Events));
            foreach (BatchReceipt receipt in await Task.WhenAll(atOnce))
            {
                recorded += receipt.Recorded;
                Assert.Null(receipt.Outcomes.FirstOrDefault(outcome => outcome.Problem is not null)?.Problem);
            }

            if (dice.Once(4)) await (between?.Invoke() ?? service.CaughtUpAsync());
        }

        Assert.Equal(history.All.Count, recorded);
        await service.CaughtUpAsync();
        return made.At(service.Anybody);
    }

    private static (int Device, SentEvent[] Events)[] Cut(History history, Dice dice)
    {
        Made[] again = [.. Enumerable.Range(0, history.All.Count / 5).Select(_ => dice.Of(history.All))];
        List<(int, SentEvent[])> batches = [];
        foreach (IGrouping<int, Made> device in dice.Shuffled(history.All.Concat(again)).GroupBy(each => each.Device))
        {
            SentEvent[] events = [.. device.Select(each => each.Event)];
            for (int from = 0, to; from < events.Length; from = to)
            {
                to = Math.Min(events.Length, from + 1 + dice.Below(9));
                batches.Add((device.Key, events[from..to]));
            }
        }

        return dice.Shuffled(batches);
    }
}
