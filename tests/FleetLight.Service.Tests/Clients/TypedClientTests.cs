using System.Net;
using System.Net.Sockets;
using System.Security.Cryptography;
using System.Text;
using FleetLight.Client;
using FleetLight.Client.Taking;
using FleetLight.Contracts.Proofs;
using FleetLight.Contracts.Views;
using FleetLight.Service.Tests.Alerts.Webhooks;
using FleetLight.Testing.Service;
using StandardWebhooks;
using Xunit;

namespace FleetLight.Service.Tests.Clients;

/// <summary>The typed client for .NET against the service itself: what is told, the ledger, exports and the handover pack.</summary>
public sealed class TypedClientTests(DeliveringService service) : IClassFixture<DeliveringService>, IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("fleetlight-client-");

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    public void Dispose() => folder.Delete(recursive: true);

    [Fact]
    public async Task A_subscription_is_made_moved_and_ended_and_its_secret_signs()
    {
        (Organisation own, Device device, FleetLightClient client) = await StartAsync();
        using FleetLightClient kept = client;
        await using Receiver receiver = await Receiver.StartAsync();
        SubscriptionView made = await client.Subscriptions.MakeAsync(
            new SubscriptionRequest { Url = receiver.Url, Filter = new StreamFilter { Tell = [ToldKind.Facts], Sites = [Some.Site] } }, Cancel);
        await device.TellAsync(Some.SiteOpened(), Some.DuctLaid());
        await receiver.TookAsync(2);
        Assert.All(receiver.All, received => new StandardWebhook(made.Secret!).Verify(received.Body, received.Headers));

        Assert.Equal([made.Id], (await client.Subscriptions.ListAsync(Cancel)).Select(each => each.Id));
        Assert.Equal((receiver.Url, false), ((await client.Subscriptions.FindAsync(made.Id, Cancel)).Url, made.OfKey));
        Assert.Equal([ToldKind.Facts], made.Filter.Tell!);
        string secret = await client.Subscriptions.ReplaceSecretAsync(made.Id, Cancel);
        await client.Subscriptions.MoveAsync(made.Id, "start", Cancel);
        await receiver.TookAsync(4);
        new StandardWebhook(secret).Verify(receiver.All.Last().Body, receiver.All.Last().Headers);
        await foreach (ParkedView parked in client.Subscriptions.ParkedAsync(made.Id, Cancel)) Assert.Fail($"Nothing is parked: {parked.Error}");
        await client.Subscriptions.EndAsync(made.Id, Cancel);
        Assert.Empty(await client.Subscriptions.ListAsync(Cancel));
        ProblemException gone = await Assert.ThrowsAsync<ProblemException>(() => client.Subscriptions.FindAsync(made.Id, Cancel));
        Assert.Equal(404, gone.Status);
        Assert.NotNull(own);
    }

    [Fact]
    public async Task The_stream_goes_on_over_cut_connections_and_gives_each_once()
    {
        (Organisation own, Device device, FleetLightClient direct) = await StartAsync();
        direct.Dispose();
        await using CuttingProxy proxy = new(service.Running.Address);
        using FleetLightClient client = ClientOf(own, proxy.Address);
        using CancellationTokenSource end = CancellationTokenSource.CreateLinkedTokenSource(Cancel);
        await device.TellAsync(Some.SiteOpened());
        List<ToldEvent> told = [];
        await foreach (ToldEvent each in client.Stream.FollowAsync(filter: new StreamFilter { Tell = [ToldKind.Facts] }, cancel: end.Token))
        {
            told.Add(each);
            if (told.Count == 6) break;
            // Cut while nothing is under way, and told of something meanwhile.
            proxy.Cut();
            await device.TellAsync(Some.Reading(told.Count));
        }

        Assert.Equal([1, 2, 3, 4, 5, 6], told.Select(each => each.Runningnumber!.Value));
        Assert.True(proxy.Connections > 5, $"{proxy.Connections} connections");
        Page<ToldEvent> rest = await client.Stream.PageAsync(told[2].Cursor, new StreamFilter { Tell = [ToldKind.Facts] }, 2, Cancel);
        Assert.Equal([4, 5], rest.Items.Select(each => each.Runningnumber!.Value));
    }

    [Fact]
    public async Task Proofs_of_the_ledger_hold()
    {
        (_, Device device, FleetLightClient client) = await StartAsync();
        using FleetLightClient kept = client;
        await device.TellAsync(Some.SiteOpened(), Some.DuctLaid());
        CheckpointView first = await client.Ledger.MakeCheckpointAsync(Cancel);
        await device.TellAsync(Some.Reading(9.1), Some.Reading(9.2), Some.Reading(9.3));
        CheckpointView second = await client.Ledger.MakeCheckpointAsync(Cancel);

        Assert.Equal((2, 5, second.Jws), (first.Size, second.Size, (await client.Ledger.CheckpointAsync(Cancel)).Jws));
        List<long> sizes = [];
        await foreach (CheckpointView each in client.Ledger.CheckpointsAsync(Cancel)) sizes.Add(each.Size);
        Assert.Equal([5, 2], sizes);
        Assert.Contains((await client.Ledger.KeysAsync(Cancel)).Keys, key => key.Kid == second.KeyId);
        ConsistencyView goesOn = await client.Ledger.ConsistencyAsync(2, 5, Cancel);
        Assert.True(MerkleProof.GoesOn(2, Bytes(first.Root), 5, Bytes(second.Root), [.. goesOn.Path.Select(Bytes)]));
        InclusionView proof = await client.Ledger.InclusionAsync($"{device.Source}#0003", 5, Cancel);
        byte[] leaf = SHA256.HashData([0, .. Encoding.UTF8.GetBytes(proof.Line)]);
        Assert.True(MerkleProof.Includes(leaf, proof.Index, 5, Bytes(second.Root), [.. proof.Path.Select(Bytes)]));

        LedgerKeySet believed = await client.Ledger.KeysAsync(Cancel);
        ProvedFact proved = await client.Ledger.ProveAsync($"{device.Source}#0003", believed, cancel: Cancel);
        Assert.Equal((proof.Line, proof.Index, 5), (proved.Line, proved.Index, proved.Checkpoint.Size));
        Assert.Equal(2, (await client.Ledger.ProveAsync($"{device.Source}#0002", believed, first, Cancel)).Checkpoint.Size);
        await Assert.ThrowsAsync<ProblemException>(() => client.Ledger.ProveAsync($"{device.Source}#0003", believed, first, Cancel));
        Assert.Equal(second.Jws, (await client.Ledger.ProveGrowthAsync(first, believed, cancel: Cancel)).Jws);
        ProofException backwards = await Assert.ThrowsAsync<ProofException>(() => client.Ledger.ProveGrowthAsync(second, believed, first, Cancel));
        Assert.Equal(ProofFault.OtherHistory, backwards.Fault);
        SiteLedgerView site = await client.Ledger.SiteAsync(Some.Site, Cancel);
        List<string> leaves = [];
        await foreach (LeafView each in client.Ledger.LeavesAsync(Some.Site, Cancel)) leaves.Add(each.LeafHash);
        Assert.Equal(site.Facts, leaves.Count);
        Assert.Equal(site.Digest, Convert.ToHexStringLower(SHA256.HashData([.. leaves.Order(StringComparer.Ordinal).SelectMany(Bytes)])));
    }

    [Fact]
    public async Task An_export_goes_on_where_it_broke_off_and_has_the_digest_of_the_manifest()
    {
        (Organisation own, Device device, FleetLightClient client) = await StartAsync();
        using FleetLightClient kept = client;
        await device.TellAsync([.. Enumerable.Range(0, 900).Select(number => Some.Reading(number))]);
        CheckpointView checkpoint = await client.Ledger.MakeCheckpointAsync(Cancel);
        ExportManifest manifest = await client.Exports.ManifestAsync(checkpoint.Size, Cancel);
        await using CuttingProxy proxy = new(service.Running.Address) { MostBytes = 150_000 };
        using FleetLightClient cut = ClientOf(own, proxy.Address);
        string file = Path.Combine(folder.FullName, "facts.ndjson");

        FetchedFile fetched = await cut.Exports.FactsAsync(manifest, file, Cancel);

        Assert.True(proxy.Connections > 1 && manifest.Facts.Bytes > 300_000, $"{proxy.Connections} connections, {manifest.Facts.Bytes} bytes");
        byte[] bytes = await File.ReadAllBytesAsync(file, Cancel);
        Assert.Equal((manifest.Facts.Bytes, manifest.Facts.Sha256, true), (fetched.Bytes, fetched.Sha256, fetched.IsChecked));
        Assert.Equal(manifest.Facts.Sha256, Convert.ToHexStringLower(SHA256.HashData(bytes)));
        Assert.Equal([file], Directory.GetFiles(folder.FullName));

        // A program that ended in between left a part; one that is not of the file shows in the digest.
        await File.WriteAllTextAsync(file + ".part.tag", (await own.Office.GetAsync($"/v1/export/facts?size={checkpoint.Size}")).Headers.ETag!.ToString(), Cancel);
        await File.WriteAllBytesAsync(file + ".part", [.. bytes[..5000], 0, .. bytes[5001..6000]], Cancel);
        await Assert.ThrowsAsync<UnreadableAnswerException>(() => client.Exports.FactsAsync(manifest, file, Cancel));
        await File.WriteAllTextAsync(file + ".part.tag", "\"of another file\"", Cancel);
        await File.WriteAllBytesAsync(file + ".part", new byte[700], Cancel);
        Assert.Equal(manifest.Facts.Sha256, (await client.Exports.FactsAsync(manifest, file, Cancel)).Sha256);

        string leaves = Path.Combine(folder.FullName, "leaves.txt"), table = Path.Combine(folder.FullName, "readings.csv");
        Assert.Equal((checkpoint.Size * 65, false), await LengthAsync(client.Exports.LeafHashesAsync(checkpoint.Size, leaves, Cancel)));
        await service.CaughtUpAsync();
        FetchedFile readings = await client.Exports.TableAsync("readings", table, cancel: Cancel);
        Assert.True(readings.IsChecked);
        Assert.Equal(902, (await File.ReadAllTextAsync(table, Cancel)).Split("\r\n").Length);
        Assert.True((await client.Exports.GeoPackageAsync(Path.Combine(folder.FullName, "all.gpkg"), cancel: Cancel)).IsChecked);
    }

    [Fact]
    public async Task The_handover_pack_is_had_as_data_and_rests_on_the_facts_that_it_names()
    {
        (_, Device device, FleetLightClient client) = await StartAsync();
        using FleetLightClient kept = client;
        await device.TellAsync(Some.SiteOpened(), Some.DuctLaid());
        await service.CaughtUpAsync();

        HandoverPack pack = await client.Planning.HandoverPackAsync(Some.Site, cancel: Cancel);
        byte[] facts = await client.Planning.HandoverAsync(Some.Site, "facts", asOf: pack.AsOf, cancel: Cancel);

        Assert.Equal(pack.Digest.Sha256, Convert.ToHexStringLower(SHA256.HashData(facts)));
    }

    private static async Task<(long Bytes, bool IsChecked)> LengthAsync(Task<FetchedFile> fetching)
    {
        FetchedFile fetched = await fetching;
        return (fetched.Bytes, fetched.IsChecked);
    }

    private static byte[] Bytes(string hexadecimal) => Convert.FromHexString(hexadecimal);

    private async Task<(Organisation Own, Device Device, FleetLightClient Client)> StartAsync()
    {
        Organisation own = await service.AddOrganisationAsync();
        return (own, await own.AddDeviceAsync(), ClientOf(own, service.Running.Address));
    }

    private static FleetLightClient ClientOf(Organisation own, Uri address) => new(new ClientOptions
    {
        Address = address,
        Key = () => own.Office.Key,
        FirstPause = TimeSpan.FromMilliseconds(20),
        // Tries fail here on purpose.
        TriesBeforeStop = 1000,
    });

    /// <summary>Passes connections on to the service, and cuts each when told to or after so many bytes of answers.</summary>
    private sealed class CuttingProxy : IAsyncDisposable
    {
        private readonly TcpListener listener = new(IPAddress.Loopback, 0);
        private readonly Uri service;
        private readonly List<TcpClient> open = [];
        private readonly Task running;

        public CuttingProxy(Uri service)
        {
            this.service = service;
            listener.Start();
            running = RunAsync();
        }

        public Uri Address => new($"http://127.0.0.1:{((IPEndPoint)listener.LocalEndpoint).Port}/");

        public long MostBytes { get; init; } = long.MaxValue;

        public int Connections { get; private set; }

        public void Cut()
        {
            lock (open)
            {
                foreach (TcpClient each in open) each.Close();
                open.Clear();
            }
        }

        public async ValueTask DisposeAsync()
        {
            listener.Stop();
            Cut();
            await running;
        }

        private async Task RunAsync()
        {
            try
            {
                while (true)
                {
                    TcpClient caller = await listener.AcceptTcpClientAsync(), called = new();
                    await called.ConnectAsync(service.Host, service.Port);
                    Connections++;
                    lock (open) open.AddRange([caller, called]);
                    _ = PassAsync(caller, called, long.MaxValue);
                    _ = PassAsync(called, caller, MostBytes);
                }
            }
            catch (Exception ended) when (ended is SocketException or ObjectDisposedException)
            {
                // Told to end.
            }
        }

        private static async Task PassAsync(TcpClient from, TcpClient to, long most)
        {
            try
            {
                byte[] buffer = new byte[16 * 1024];
                for (long passed = 0; passed < most;)
                {
                    int read = await from.GetStream().ReadAsync(buffer);
                    if (read == 0) break;
                    await to.GetStream().WriteAsync(buffer.AsMemory(0, read));
                    passed += read;
                }
            }
            catch (Exception cut) when (cut is IOException or ObjectDisposedException or InvalidOperationException)
            {
                // Cut.
            }
            finally
            {
                from.Close();
                to.Close();
            }
        }
    }
}
