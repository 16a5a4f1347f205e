using FleetLight.Client.Reading;
using FleetLight.Client.Sending;
using FleetLight.Contracts.Views;

namespace FleetLight.Client.Taking;

/// <summary>A file that was fetched.</summary>
/// <param name="File">Where it is.</param>
/// <param name="Bytes">Its length, bytes.</param>
/// <param name="Sha256">SHA-256 of its bytes, lower-case hexadecimal.</param>
/// <param name="IsChecked">Whether the service said what the digest has to be, and it is that.</param>
public sealed record FetchedFile(string File, long Bytes, string Sha256, bool IsChecked);

/// <summary>
/// Everything to take along. A file is fetched under its name with <c>.part</c> behind, and gets its name once it is whole and has the digest that it should
/// have. A fetch that broke off, or whose program ended, goes on from there with the same bytes as long as the service has them.
/// </summary>
public sealed class ExportApi
{
    private readonly Transport transport;
    private readonly Download download;

    internal ExportApi(Transport transport) => (this.transport, download) = (transport, new Download(transport));

    /// <summary>What an export consists of: checkpoint, keys, pictures, length and digest of the facts.</summary>
    /// <param name="size">Size of the checkpoint, in facts; the newest where absent.</param>
    /// <param name="cancel">Ends it.</param>
    public Task<ExportManifest> ManifestAsync(long? size = null, CancellationToken cancel = default) =>
        transport.ReadAsync<ExportManifest>(Call.Get(Pages.With("v1/export/manifest", ("size", Call.Number(size)))) with { MayTakeLong = true }, cancel);

    /// <summary>All facts up to a checkpoint, a line each, checked against the manifest.</summary>
    /// <param name="manifest">What it has to be.</param>
    /// <param name="file">Where to put it; what is there is replaced.</param>
    /// <param name="cancel">Ends it; the next call goes on.</param>
    /// <exception cref="FleetLightException">The bytes are not those of the digest, or no answer came.</exception>
    public Task<FetchedFile> FactsAsync(ExportManifest manifest, string file, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(manifest);
        return download.FetchAsync($"v1/export/facts?size={Call.Number(manifest.Size)}", file, manifest.Facts.Sha256, cancel);
    }

    /// <summary>The leaf hashes up to a checkpoint, a line each. The service states no digest of them: the root of the checkpoint proves them.</summary>
    public Task<FetchedFile> LeafHashesAsync(long size, string file, CancellationToken cancel = default) =>
        download.FetchAsync($"v1/export/leaf-hashes?size={Call.Number(size)}", file, null, cancel);

    /// <summary>A table as it stands (RFC 4180): ducts, cables, boxes, circuits, readings or alerts. One that takes long to make is waited for.</summary>
    /// <param name="table">Its name.</param>
    /// <param name="file">Where to put it; what is there is replaced.</param>
    /// <param name="happenedFrom">Of readings: only those taken then or later.</param>
    /// <param name="happenedTo">Of readings: only those taken before.</param>
    /// <param name="cancel">Ends it; the next call goes on.</param>
    public Task<FetchedFile> TableAsync(
        string table, string file, DateTimeOffset? happenedFrom = null, DateTimeOffset? happenedTo = null, CancellationToken cancel = default) => download.FetchAsync(
        Pages.With(
            $"v1/export/tables/{Uri.EscapeDataString(table)}", ("happenedFrom", Call.Time(happenedFrom)), ("happenedTo", Call.Time(happenedTo))),
        file, null, cancel);

    /// <summary>The open data as one GeoPackage, or those of one site. One that takes long to make is waited for.</summary>
    public Task<FetchedFile> GeoPackageAsync(string file, string? site = null, CancellationToken cancel = default) =>
        download.FetchAsync(Pages.With("ogc/geopackage", ("site", site)), file, null, cancel);
}
