using System.Data.Common;
using System.Diagnostics;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Access;
using FleetLight.Service.Alerts;
using FleetLight.Service.Audit;
using FleetLight.Service.Circuits;
using FleetLight.Service.Intake;
using FleetLight.Service.Judgement;
using FleetLight.Service.Photos;
using FleetLight.Service.Visits;
using FleetLight.Service.Works;
using JasperFx;
using JasperFx.Events;
using JasperFx.Events.Daemon;
using JasperFx.Events.Projections;
using JasperFx.MultiTenancy;
using Marten;
using Microsoft.Extensions.DependencyInjection.Extensions;
using Npgsql;
using Weasel.Core;

namespace FleetLight.Service.Store;

/// <summary>How Marten keeps events and documents here.</summary>
public static class MartenSetup
{
    /// <summary>Adds the store, its asynchronous projection and the daemon that runs it.</summary>
    public static IServiceCollection AddStore(this IServiceCollection services, string connectionString)
    {
        services.AddSingleton(_ => Database(connectionString));
        services.AddSingleton<WorksMetrics>();
        services.AddSingleton<WorksWatch>();
        services.TryAddSingleton<WorksFolds>();
        services.AddSingleton<PageParts>();
        services.AddSingleton<BasisCache>();
        services.AddSingleton<WorksProjection>();
        // Before the daemon and all else that wants tables.
        services.AddHostedService<SchemaStart>();
        services.AddMarten(provider =>
            {
                var options = new StoreOptions();
                Configure(options);
                var works = provider.GetRequiredService<WorksProjection>();
                options.Projections.Add(works, ProjectionLifecycle.Async, WorksProjection.Name, WorksProjection.Tune);
                return options;
            })
            .UseNpgsqlDataSource()
            .AddAsyncDaemon(DaemonMode.HotCold);
        return services;
    }

    /// <summary>The database as the service speaks to it.</summary>
    /// <param name="connectionString">How to reach it.</param>
    /// <param name="searchPath">Where tables of states are looked for.</param>
    public static NpgsqlDataSource Database(string connectionString, string searchPath = Tables.Schema)
    {
        var given = new DbConnectionStringBuilder { ConnectionString = connectionString };
        var builder = new NpgsqlDataSourceBuilder(connectionString);
        builder.ConnectionStringBuilder.Enlist = false;
        // The tables of states are named without a schema: a rebuild beside the running service puts others before them.
        builder.ConnectionStringBuilder.SearchPath = searchPath;
        // Everything here is read along an index, a few rows of many, in its order. A planner that has no statistics yet, on
        // tables that grow by the second, reads and sorts whole stretches instead. Options in the connection string come first.
        // And a node that vanishes without a word must not keep its locks: the server notices within half a minute.
        builder.ConnectionStringBuilder.Options ??=
            "-c jit=off -c random_page_cost=1.1 -c enable_bitmapscan=off -c enable_seqscan=off -c enable_sort=off "
            + "-c tcp_keepalives_idle=15 -c tcp_keepalives_interval=5 -c tcp_keepalives_count=3";
        if (!given.ContainsKey("Tcp Keepalive"))
        {
            builder.ConnectionStringBuilder.TcpKeepAlive = true;
            builder.ConnectionStringBuilder.TcpKeepAliveTime = 15;
            builder.ConnectionStringBuilder.TcpKeepAliveInterval = 5;
        }

        // Opening cannot be cancelled while the server says nothing. Nor can a statement, where that means to ask the server and to
        // wait for its word: the connection is given up instead, and the server rolls back what was under way.
        if (!given.ContainsKey("Timeout")) builder.ConnectionStringBuilder.Timeout = 8;
        if (!given.ContainsKey("Cancellation Timeout")) builder.ConnectionStringBuilder.CancellationTimeout = -1;

        // Its measures carry this name instead of the connection string.
        builder.Name = "fleetlight";
        // Statements of a request, a page or a delivery belong to its trace. Those of looking for work belong to none.
        builder.ConfigureTracing(tracing => tracing
            .ConfigureCommandFilter(_ => Activity.Current is not null)
            .ConfigureBatchFilter(_ => Activity.Current is not null));
        return builder.Build();
    }

    /// <summary>Everything of the store that does not depend on the host.</summary>
    public static void Configure(StoreOptions options)
    {
        options.DatabaseSchemaName = Tables.Schema;
        // Tables are changed at the start and never in passing: see SchemaStart.
        options.AutoCreateSchemaObjects = AutoCreate.None;
        options.UseSystemTextJsonForSerialization(casing: Casing.CamelCase, configure: WireJson.Configure);
        options.DisableNpgsqlLogging = true;

        // A device's facts are one stream: the device hands them in one batch after the other, so writers never meet on a
        // stream, and a batch touches one stream only, which is what makes the append cheap.
        options.Events.StreamIdentity = StreamIdentity.AsString;
        options.Events.TenancyStyle = TenancyStyle.Conjoined;
        options.Events.AppendMode = EventAppendMode.Quick;
        options.Events.EnableUniqueIndexOnEventId = true;
        options.Events.IgnoreIndex(EventIndex.Name);
        // The daemon is woken by a notification; it looks by itself for the case that one is lost.
        options.Events.UseListenNotifyForEventAppends = true;
        options.Projections.FastPollingTime = TimeSpan.FromMilliseconds(15);
        options.Projections.SlowPollingTime = TimeSpan.FromMilliseconds(80);
        // How long a node whose neighbour died takes to notice that it may project now.
        options.Projections.LeadershipPollingTime = 1000;
        options.Projections.StaleSequenceThreshold = TimeSpan.FromMilliseconds(500);
        foreach (var errors in (ReadOnlySpan<ErrorHandlingOptions>)[options.Projections.Errors, options.Projections.RebuildErrors])
        {
            // An event that cannot be read is kept as a dead letter, so that one does not stop all. One of a type that this build
            // does not know was recorded by a newer node: an older one leaves it, and all after it, to that.
            errors.SkipSerializationErrors = true;
            errors.SkipUnknownEvents = false;
        }

        foreach (var (name, type) in FactTypes.All)
            options.Events.MapEventType(typeof(Kept<>).MakeGenericType(type), name);
        AlertEvents.Map(options.Events);
        JudgingEvents.Map(options.Events);
        ToTakeInAgain.Map(options.Events);
        AttachmentEvents.Map(options.Events);
        VisitEvents.Map(options.Events);
        AuditEvents.Map(options.Events);
        options.Listeners.Add(new AuditTurn());

        // Enumerations that are searched for are duplicated into columns; in the JSON they stand as words.
        options.Policies.AllDocumentsAreMultiTenanted();
        // Looked up before it is known whose they are; saved only over what was read, so that nothing revoked comes back.
        options.Schema.For<KeyRecord>().SingleTenanted().UseOptimisticConcurrency(true).Index(key => key.Organisation);
        options.Schema.For<Enrolment>().SingleTenanted().UseOptimisticConcurrency(true).Index(each => each.Organisation).Index(each => each.Hash);
        options.Schema.For<AlertDocument>().Duplicate(doc => doc.SiteId).Duplicate(doc => doc.Standing).Duplicate(doc => doc.Severity);
        options.Schema.For<RefusedFact>().Duplicate(doc => doc.State);
        options.Schema.For<Webhook>();
        options.Schema.For<Delivery>().Duplicate(doc => doc.State).Duplicate(doc => doc.DueAt);
        foreach (var table in Tables.All()) options.Storage.ExtendedSchemaObjects.Add(table);
    }
}
