using System.Security.Cryptography;
using FleetLight.OpenData.Features;
using Npgsql;

namespace FleetLight.Service.OpenData.GeoPackage;

/// <summary>A GeoPackage that was made.</summary>
/// <param name="Path">Where it is.</param>
/// <param name="Sha256">SHA-256 of its bytes.</param>
/// <param name="Length">Its length, bytes.</param>
public sealed record MadeGeoPackage(string Path, byte[] Sha256, long Length);

/// <summary>What a GeoPackage is of.</summary>
/// <param name="Organisation">The organisation.</param>
/// <param name="SiteId">The site; all of them if null.</param>
/// <param name="WithStates">Whether circuits, readings and alerts are in it.</param>
/// <param name="Edition">The table of states that the features were made of.</param>
/// <param name="Position">Through which change of the feed they were known.</param>
/// <param name="IsMadeAnew">Whether features were being made anew of rebuilt states: such a file is not that of the time after.</param>
public sealed record GeoPackageOf(string Organisation, string? SiteId, bool WithStates, long Edition, long Position, bool IsMadeAnew);

/// <summary>
/// Makes GeoPackages as temporary files of this node and keeps each for a while, so that an interrupted download goes on where it
/// stopped. Whoever asks for the same at the same time waits for the same file.
/// </summary>
public sealed class GeoPackageDesk(NpgsqlDataSource database, TimeProvider clock, ILogger<GeoPackageDesk> log) : IAsyncDisposable
{
    private const int MostKept = 16;
    private static readonly TimeSpan Keep = TimeSpan.FromMinutes(15);

    // Whoever asked waits for a file no longer than that: until then none is taken away, however many there are.
    private static readonly TimeSpan Awaited = TimeSpan.FromMinutes(1);

    private readonly Lock gate = new();
    private readonly SemaphoreSlim atOnce = new(2);
    private readonly Dictionary<GeoPackageOf, (Task<MadeGeoPackage> Made, DateTimeOffset UsedAt)> files = [];
    private readonly string folder = Directory.CreateTempSubdirectory("fleetlight-geopackage-").FullName;

    /// <summary>The file; the task ends once it is made, however long the caller waits.</summary>
    public Task<MadeGeoPackage> Of(GeoPackageOf wanted)
    {
        lock (gate)
        {
            Tidy();
            if (!files.TryGetValue(wanted, out var known) || known.Made.IsFaulted || known.Made.IsCanceled)
                known.Made = Task.Run(() => MakeAsync(wanted), CancellationToken.None);
            files[wanted] = (known.Made, clock.GetUtcNow());
            return known.Made;
        }
    }

    /// <summary>How far the features of an organisation are known, which a file is named by.</summary>
    public async Task<GeoPackageOf> NowAsync(string organisation, string? siteId, bool withStates, CancellationToken cancel)
    {
        await using var command = database.CreateCommand("select edition, position, filling is not null from fleetlight.fl_feature_place where tenant_id = $1");
        command.Parameters.Add(new NpgsqlParameter { Value = organisation });
        await using var reader = await command.ExecuteReaderAsync(cancel);
        return await reader.ReadAsync(cancel)
            ? new GeoPackageOf(organisation, siteId, withStates, reader.GetInt64(0), reader.GetInt64(1), reader.GetBoolean(2))
            : new GeoPackageOf(organisation, siteId, withStates, 0, 0, false);
    }

    /// <inheritdoc/>
    public ValueTask DisposeAsync()
    {
        atOnce.Dispose();
        Directory.Delete(folder, recursive: true);
        return ValueTask.CompletedTask;
    }

    // Files that nobody asked for of late, and beyond those that there is room for the ones asked for longest ago. One that is being sent stays readable.
    private void Tidy()
    {
        var now = clock.GetUtcNow();
        foreach (var (key, file) in files.Where(file => file.Value.Made.IsCompleted).OrderBy(file => file.Value.UsedAt).ToArray())
        {
            var idle = now - file.UsedAt;
            if (idle < Awaited || (idle < Keep && files.Count <= MostKept)) continue;
            files.Remove(key);
            if (file.Made.IsCompletedSuccessfully) File.Delete(file.Made.Result.Path);
        }
    }

    private async Task<MadeGeoPackage> MakeAsync(GeoPackageOf wanted)
    {
        await atOnce.WaitAsync();
        var path = Path.Combine(folder, $"{Guid.NewGuid():N}.gpkg");
        try
        {
            using (var writer = new GeoPackageWriter(path, await AsOfAsync(wanted)))
            {
                foreach (var kind in FeatureKinds.All.Where(kind => wanted.WithStates || !kind.IsState))
                {
                    var source = FeaturePages.SourceOf(kind, database, wanted.Organisation);
                    await writer.WriteAsync(kind, FeaturePages.AllAsync(source, new FeatureQuestion(kind, null, wanted.SiteId), default), default);
                }

                writer.Complete();
            }

            await using var file = File.OpenRead(path);
            return new MadeGeoPackage(path, await SHA256.HashDataAsync(file), file.Length);
        }
        catch (Exception fault)
        {
            log.LogError(fault, "A GeoPackage of {Organisation} could not be made", wanted.Organisation);
            File.Delete(path);
            throw;
        }
        finally
        {
            atOnce.Release();
        }
    }

    // When the newest event behind the features was recorded.
    private async Task<DateTimeOffset> AsOfAsync(GeoPackageOf wanted)
    {
        await using var command = database.CreateCommand("select max(timestamp) from fleetlight.mt_events where tenant_id = $1 and seq_id = $2");
        command.Parameters.Add(new NpgsqlParameter { Value = wanted.Organisation });
        command.Parameters.Add(new NpgsqlParameter { Value = wanted.Position });
        return await command.ExecuteScalarAsync() is DateTime at ? new DateTimeOffset(at.ToUniversalTime()) : DateTimeOffset.UnixEpoch;
    }
}
