using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Access;
using FleetLight.Service.Alerts;
using FleetLight.Service.Audit;
using FleetLight.Service.Circuits;
using FleetLight.Service.Intake;
using FleetLight.Service.Judgement;
using FleetLight.Service.Works;
using JasperFx;
using JasperFx.Events;
using JasperFx.Events.Daemon;
using JasperFx.Events.Projections;
using JasperFx.MultiTenancy;
using Marten;
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
        services.AddSingleton<BasisCache>();
        services.AddSingleton<WorksProjection>();
        services.AddMarten(provider =>
            {
                var options = new StoreOptions();
                Configure(options);
                var works = provider.GetRequiredService<WorksProjection>();
                options.Projections.Add(works, ProjectionLifecycle.Async, WorksProjection.Name, WorksProjection.Tune);
                return options;
            })
            .UseNpgsqlDataSource()
            .ApplyAllDatabaseChangesOnStartup()
            .AddAsyncDaemon(DaemonMode.HotCold);
        return services;
    }

    /// <summary>The database as the service speaks to it.</summary>
    public static NpgsqlDataSource Database(string connectionString)
    {
        var builder = new NpgsqlDataSourceBuilder(connectionString);
        builder.ConnectionStringBuilder.Enlist = false;
        // Everything here is read along an index, a few rows of many, in its order. A planner that has no statistics yet, on
        // tables that grow by the second, reads and sorts whole stretches instead. Options in the connection string come first.
        builder.ConnectionStringBuilder.Options ??=
            "-c jit=off -c random_page_cost=1.1 -c enable_bitmapscan=off -c enable_seqscan=off -c enable_sort=off";
        return builder.Build();
    }

    /// <summary>Everything of the store that does not depend on the host.</summary>
    public static void Configure(StoreOptions options)
    {
        options.DatabaseSchemaName = Tables.Schema;
        options.AutoCreateSchemaObjects = AutoCreate.CreateOrUpdate;
        options.UseSystemTextJsonForSerialization(casing: Casing.CamelCase, configure: WireJson.Configure);
        options.DisableNpgsqlLogging = true;

        // A device's facts are one stream: the device hands them in one batch after the other, so writers never meet on a
        // stream, and a batch touches one stream only, which is what makes the append cheap.
        options.Events.StreamIdentity = StreamIdentity.AsString;
        options.Events.TenancyStyle = TenancyStyle.Conjoined;
        options.Events.AppendMode = EventAppendMode.Quick;
        options.Events.EnableUniqueIndexOnEventId = true;
        // The daemon is woken by a notification; it looks by itself for the case that one is lost.
        options.Events.UseListenNotifyForEventAppends = true;
        options.Projections.FastPollingTime = TimeSpan.FromMilliseconds(15);
        options.Projections.SlowPollingTime = TimeSpan.FromMilliseconds(80);
        options.Projections.StaleSequenceThreshold = TimeSpan.FromMilliseconds(500);
        foreach (var (name, type) in FactTypes.All)
            options.Events.MapEventType(typeof(Kept<>).MakeGenericType(type), name);
        AlertEvents.Map(options.Events);
        JudgingEvents.Map(options.Events);
        AuditEvents.Map(options.Events);

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
