using System.Security.Cryptography;
using FleetLight.OpenData.Features;
using FleetLight.Service.MadeFiles;
using Npgsql;

namespace FleetLight.Service.OpenData.GeoPackage;

/// <summary>What a GeoPackage is of.</summary>
/// <param name="Organisation">The organisation.</param>
/// <param name="SiteId">The site; all of them if null.</param>
/// <param name="WithStates">Whether circuits, readings and alerts are in it.</param>
/// <param name="Edition">The table of states that the features were made of.</param>
/// <param name="Position">Through which change of the feed they were known.</param>
/// <param name="IsMadeAnew">Whether features were being made anew of rebuilt states: such a file is not that of the time after.</param>
public sealed record GeoPackageOf(string Organisation, string? SiteId, bool WithStates, long Edition, long Position, bool IsMadeAnew) : IWantedFile;

/// <summary>Makes GeoPackages.</summary>
public sealed class GeoPackageMaker(NpgsqlDataSource database)
{
    /// <summary>How GeoPackages are made. Any number of one organisation may wait their turn: each is of one state, which is made once.</summary>
    public static readonly MadeFileOptions<GeoPackageOf> Options = new()
    {
        Name = "GeoPackage",
        Extension = ".gpkg",
        BeingMade = "The file is being made.",
        IsOfOneState = true,
    };

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

    /// <summary>Makes one.</summary>
    public async Task<MadeFile> MakeAsync(GeoPackageOf wanted, string path, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(wanted);
        using (var writer = new GeoPackageWriter(path, await AsOfAsync(wanted, cancel)))
        {
            foreach (var kind in FeatureKinds.All.Where(kind => wanted.WithStates || !kind.IsState))
            {
                var source = FeaturePages.SourceOf(kind, database, wanted.Organisation);
                await writer.WriteAsync(kind, FeaturePages.AllAsync(source, new FeatureQuestion(kind, null, wanted.SiteId), cancel), cancel);
            }

            writer.Complete();
        }

        await using var file = File.OpenRead(path);
        var sha256 = await SHA256.HashDataAsync(file, cancel);
        return new MadeFile(path, $"\"{Convert.ToHexStringLower(sha256)}\"", file.Length, sha256);
    }

    // When the newest event behind the features was recorded.
    private async Task<DateTimeOffset> AsOfAsync(GeoPackageOf wanted, CancellationToken cancel)
    {
        await using var command = database.CreateCommand("select max(timestamp) from fleetlight.mt_events where tenant_id = $1 and seq_id = $2");
        command.Parameters.Add(new NpgsqlParameter { Value = wanted.Organisation });
        command.Parameters.Add(new NpgsqlParameter { Value = wanted.Position });
        return await command.ExecuteScalarAsync(cancel) is DateTime at ? new DateTimeOffset(at.ToUniversalTime()) : DateTimeOffset.UnixEpoch;
    }
}
