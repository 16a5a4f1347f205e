using Marten;

namespace FleetLight.Service.Access;

/// <summary>
/// Makes the first key on an empty store, for whoever runs the service, and leaves it in a file that only the service's
/// own user can read. It may make keys for every organisation.
/// </summary>
public sealed class FirstKey(IDocumentStore store, IConfiguration configuration, TimeProvider clock, ILogger<FirstKey> log) : IHostedService
{
    /// <summary>Name of the file in the data folder.</summary>
    public const string FileName = "first-key";

    /// <inheritdoc/>
    public async Task StartAsync(CancellationToken cancellationToken)
    {
        await using var session = store.LightweightSession();
        if (await session.Query<KeyRecord>().AnyAsync(cancellationToken)) return;
        var (record, text) = KeyEndpoints.Make(
            "first key", configuration["FLEETLIGHT_ORGANISATION"] ?? "host", null,
            [Scope.Administer, Scope.ReadStatus, Scope.ReadAsBuilt], true, clock.GetUtcNow());
        var folder = configuration["FLEETLIGHT_DATA"] ?? ".data";
        Directory.CreateDirectory(folder);
        var path = Path.Combine(folder, FileName);
        var options = new FileStreamOptions { Mode = FileMode.Create, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows()) options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        await using (var file = new FileStream(path, options))
        await using (var writer = new StreamWriter(file))
            await writer.WriteLineAsync(text.AsMemory(), cancellationToken);
        session.Store(record);
        await session.SaveChangesAsync(cancellationToken);
        log.LogInformation("The store is new: its first key is in the file {File} of the data folder", FileName);
    }

    /// <inheritdoc/>
    public Task StopAsync(CancellationToken cancellationToken) => Task.CompletedTask;
}
