using System.Runtime.Versioning;
using FleetLight.Faults.Tests.Nodes;

// One fault at a time: what is measured beside another fault says little of either.
[assembly: Xunit.v3.Parallelization(Mode = Xunit.Sdk.ParallelMode.None)]
[assembly: SupportedOSPlatform("linux")]

namespace FleetLight.Faults.Tests;

/// <summary>The PostgreSQL server that these tests share and may kill; each takes a database of its own.</summary>
public sealed class OwnPostgres : IAsyncLifetime
{
    private PostgresNode? node;

    /// <summary>The server.</summary>
    internal PostgresNode Node => node ?? throw new InvalidOperationException("The server does not run.");

    /// <inheritdoc/>
    public async ValueTask InitializeAsync() =>
        node = await PostgresNode.StartAsync(Directory.CreateTempSubdirectory("fleetlight-faults-pg-").FullName);

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        if (node is not null) await node.DisposeAsync();
    }
}

/// <summary>Tests that share the server.</summary>
[CollectionDefinition(nameof(OwnPostgres))]
public sealed class OwnPostgresTests : ICollectionFixture<OwnPostgres>;
