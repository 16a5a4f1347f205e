using FleetLight.Service.Audit;
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
        var organisation = configuration["FLEETLIGHT_ORGANISATION"] ?? "host";
        await using var session = store.LightweightSession(organisation);
        if (await session.Query<KeyRecord>().AnyAsync(cancellationToken)) return;
        var (record, text) = KeyDesk.Make(
            "first key", organisation, null, null, [Scope.Administer, Scope.ReadStatus, Scope.ReadAsBuilt], clock.GetUtcNow());
        record.Host = true;
        var folder = configuration["FLEETLIGHT_DATA"] ?? ".data";
        Directory.CreateDirectory(folder);
        var path = Path.Combine(folder, FileName);
        var options = new FileStreamOptions { Mode = FileMode.Create, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows()) options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        await using (var file = new FileStream(path, options))
        await using (var writer = new StreamWriter(file))
            await writer.WriteLineAsync(text.AsMemory(), cancellationToken);
        session.Store(record);
        new Acting(new Actor(ActorKind.Service, "service", "FleetLight"), null, record.CreatedAt)
            .Note(session, AdministrativeAct.KeyMade, record.Id, ("name", record.Name));
        await session.SaveChangesAsync(cancellationToken);
        log.LogInformation("The store is new: its first key is in the file {File} of the data folder", FileName);
    }

    /// <inheritdoc/>
    public Task StopAsync(CancellationToken cancellationToken) => Task.CompletedTask;
}
