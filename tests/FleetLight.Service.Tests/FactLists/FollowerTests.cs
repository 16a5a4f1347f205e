using System.Net;
using System.Text.Json;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Works;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Service.Tests.Works.Laws;
using FleetLight.Testing.Service;
using FsCheck;
using FsCheck.Xunit;
using Xunit;

namespace FleetLight.Service.Tests.FactLists;

/// <summary>
/// Law: whoever follows the facts of a site, page by page while they come, holds all that the states of the site's things follow
/// from: folded in memory they are the service's own, byte for byte.
/// </summary>
public sealed class FollowerTests(FleetService service) : IClassFixture<FleetService>
{
    private static int cases;

    [Property(MaxTest = 15, StartSize = 20, EndSize = 200)]
    public async Task The_facts_of_a_site_give_the_states_of_all_its_things(PositiveInt size, DoNotSize<int> seed, DoNotSize<int> arrival)
    {
        History history = History.Make(size.Get, seed.Item);
        Dictionary<string, Follower> followers = new() { ["s1"] = new("s1"), ["s2"] = new("s2") };
        string name = $"followed-{Interlocked.Increment(ref cases)}";
        Organisation organisation = await Arrival.ComeAsync(service, name, history, arrival.Item, between: service.CaughtUpAsync);
        // Asked in the middle and at the end: the pages are cut by chance.
        foreach (Follower follower in followers.Values) await follower.AskAsync(organisation, 1 + (arrival.Item & 31));

        foreach ((string site, Follower follower) in followers)
            await SameAsync(organisation, site, follower.Works);
    }

    [Fact]
    public async Task A_follower_that_asks_between_all_batches_ends_with_the_same()
    {
        History history = History.Make(200, seed: 5);
        Follower[] followers = [new("s1"), new("s2")];
        Organisation organisation = await service.AddOrganisationAsync("between");
        Device[] devices = await Task.WhenAll(History.Sources.Select(organisation.AddDeviceAsync));
        foreach (Made[] batch in new Dice(3).Shuffled(history.All).Chunk(7))
        {
            foreach (IGrouping<int, Made> own in batch.GroupBy(each => each.Device))
                await devices[own.Key].SendAsync(service.Clock.Now + History.ClockErrors[own.Key], [.. own.Select(each => each.Event)]);
            foreach (Follower follower in followers) await follower.AskAsync(organisation, 5);
        }

        await service.CaughtUpAsync();
        foreach (Follower follower in followers)
        {
            await follower.AskAsync(organisation, 1000);
            Assert.Equal(0, follower.StartedOver);
            await SameAsync(organisation, follower.Site, follower.Works);
        }
    }

    private static async Task SameAsync(Organisation organisation, string site, MemoryWorks works)
    {
        foreach (string kind in (string[])["ducts", "cables", "boxes", "circuits", "sites"])
        {
            for (int number = 1; number <= 3; number++)
            {
                string id = $"{kind[0]}{number}".Replace("c", kind == "circuits" ? "k" : "c", StringComparison.Ordinal);
                Answer answer = await organisation.Office.GetAsync($"/v1/{kind}/{id}");
                if (answer.Status == HttpStatusCode.NotFound || (kind == "sites" ? id : answer.Json["siteId"]?.GetValue<string>()) != site) continue;
                object? mine = kind switch
                {
                    "ducts" => works.DuctOf(id),
                    "cables" => works.CableOf(id),
                    "boxes" => works.BoxOf(id),
                    "circuits" => works.CircuitOf(id),
                    _ => works.SiteOf(id),
                };
                Assert.NotNull(mine);
                Assert.Equal(answer.Text, JsonSerializer.Serialize(mine, mine.GetType(), WireJson.Lenient));
            }
        }
    }

    private sealed class Follower(string site)
    {
        private string? cursor;

        public string Site => site;

        public MemoryWorks Works { get; } = new();

        public int StartedOver { get; private set; }

        public async Task AskAsync(Organisation organisation, int limit)
        {
            FactPage page;
            do
            {
                page = await organisation.Office.ReadAsync<FactPage>(
                    $"/v1/facts?site={site}&order=recorded&limit={limit}{(cursor is null ? "" : $"&cursor={cursor}")}");
                Works.Take(page.Items.Select(fact => ReceivedFact.Of(fact)!));
                if (page.StartsOver) StartedOver++;
                cursor = page.Next;
            }
            while (page.More);
        }
    }
}
