using FleetLight.Service.Tests.Hosting;
using Npgsql;

namespace FleetLight.Service.Tests.Health;

/// <summary>A service whose database can be cut off.</summary>
public sealed class WiredService : FleetService
{
    private Wire? wire;

    protected override string ServiceConnectionString
    {
        get
        {
            NpgsqlConnectionStringBuilder server = new(ConnectionString);
            wire ??= new Wire(server.Host!, server.Port);
            return new NpgsqlConnectionStringBuilder(ConnectionString) { Host = "127.0.0.1", Port = wire.Port }.ConnectionString;
        }
    }

    /// <summary>Cuts the database off.</summary>
    public void CutDatabase() => wire!.Cut();

    /// <summary>Connects it again.</summary>
    public void MendDatabase() => wire!.Mend();

    public override async ValueTask DisposeAsync()
    {
        await base.DisposeAsync();
        if (wire is not null) await wire.DisposeAsync();
    }
}
