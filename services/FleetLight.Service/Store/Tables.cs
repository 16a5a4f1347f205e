using FleetLight.Service.Ledger;
using FleetLight.Service.OpenData;
using FleetLight.Service.Photos;
using FleetLight.Service.Subscriptions;
using FleetLight.Service.Visits;
using Weasel.Postgresql.Tables;

namespace FleetLight.Service.Store;

/// <summary>The service's own tables beside Marten's: written in bulk, or read in an order that documents do not have.</summary>
public static class Tables
{
    /// <summary>The schema that holds everything.</summary>
    public const string Schema = "fleetlight";

    /// <summary>Running numbers in hand, one row a device; its row lock orders the device's batches.</summary>
    public static Table Devices() => Make("fl_device", Schema, table =>
    {
        table.AddColumn<string>("tenant_id").AsPrimaryKey();
        table.AddColumn<string>("source").AsPrimaryKey();
        table.AddColumn("ranges", "integer[]").NotNull();
        table.AddColumn("last_seen", "timestamp with time zone");
        // Came later than the rest: none stands for none assigned.
        table.AddColumn("sites", "text[]");
    });

    /// <summary>Which thing leans on which: rows are only ever added.</summary>
    public static Table Links(string schema = Schema) => Make("fl_link", schema, table =>
    {
        table.AddColumn<string>("tenant_id").AsPrimaryKey();
        table.AddColumn<string>("from_thing").AsPrimaryKey();
        table.AddColumn<string>("to_thing").AsPrimaryKey();
        table.Indexes.Add(new IndexDefinition("fl_link_to") { Columns = ["tenant_id", "to_thing"] });
    });

    /// <summary>Every reading that counts or counted, by circuit and time. One index holds the order and keeps each once.</summary>
    public static Table Readings(string schema = Schema) => Make("fl_reading", schema, table =>
    {
        table.AddColumn<string>("tenant_id").AsPrimaryKey();
        table.AddColumn<string>("circuit_id").AsPrimaryKey();
        table.AddColumn("happened_at", "timestamp with time zone").AsPrimaryKey();
        table.AddColumn<Guid>("event_id").AsPrimaryKey();
        table.AddColumn("recorded_at", "timestamp with time zone").NotNull();
        table.AddColumn<bool>("counts").NotNull();
        table.AddColumn<string>("entry").NotNull();
    });

    /// <summary>Files of things, states of sites, ducts, cables and boxes, and what follows for circuits from their facts.</summary>
    public static Table States(string schema = Schema) => Make("fl_state", schema, table =>
    {
        table.AddColumn<string>("tenant_id").AsPrimaryKey();
        table.AddColumn<string>("kind").AsPrimaryKey();
        table.AddColumn<string>("id").AsPrimaryKey();
        table.AddColumn<string>("site_id");
        table.AddColumn<string>("body").NotNull();
        // Came later than the rest: of a site, what its line in a list says; where there is none, the body says it as well.
        table.AddColumn<string>("line");
        table.Indexes.Add(new IndexDefinition("fl_state_site") { Columns = ["tenant_id", "site_id", "kind"], Predicate = "site_id is not null" });
    });

    /// <summary>The state of each circuit.</summary>
    public static Table Circuits(string schema = Schema) => Make("fl_circuit", schema, table =>
    {
        table.AddColumn<string>("tenant_id").AsPrimaryKey();
        table.AddColumn<string>("id").AsPrimaryKey();
        table.AddColumn<string>("site_id");
        table.AddColumn<string>("phase").NotNull();
        table.AddColumn<string>("verdict").NotNull();
        table.AddColumn("rules", "text[]").NotNull();
        table.AddColumn<string>("line").NotNull();
        table.AddColumn<string>("basis_stamp").NotNull();
        table.AddColumn<string>("readings").NotNull();
        // Came later than the rest: none stands for nothing judged.
        table.AddColumn<string>("judged");
        // So did this: none is filled from the readings kept aside as soon as the circuit is touched.
        table.AddColumn<string>("history");
        table.AddColumn<string>("findings").NotNull();
        // And this: what a circuit is found by, in small letters; where there is none, the line says it as well.
        table.AddColumn<string>("search");
        table.Indexes.Add(new IndexDefinition("fl_circuit_site") { Columns = ["tenant_id", "site_id"] });
    });

    /// <summary>Corrections that arrived before the fact they correct.</summary>
    public static Table WaitingCorrections(string schema = Schema) => Make("fl_waiting_correction", schema, table =>
    {
        table.AddColumn<string>("tenant_id").AsPrimaryKey();
        table.AddColumn<Guid>("target_id").AsPrimaryKey();
        table.AddColumn<Guid>("correction_id").AsPrimaryKey();
        table.AddColumn("correction", "jsonb").NotNull();
    });

    /// <summary>The change feed. A position is the sequence of the newest event behind the change.</summary>
    public static Table Changes() => Make("fl_change", Schema, table =>
    {
        table.AddColumn<string>("tenant_id").AsPrimaryKey();
        table.AddColumn<long>("position").AsPrimaryKey();
        table.AddColumn<int>("ordinal").AsPrimaryKey();
        table.AddColumn<string>("kind").NotNull();
        table.AddColumn<string>("thing_id").NotNull();
        table.AddColumn<string>("site_id");
        table.Indexes.Add(new IndexDefinition("fl_change_position") { Columns = ["position", "tenant_id", "ordinal"] });
    });

    /// <summary>Through which event an organisation's changes, alerts and deliveries were sent: a rebuild sends none again.</summary>
    public static Table Emitted() => Make("fl_emitted", Schema, table =>
    {
        table.AddColumn<string>("tenant_id").AsPrimaryKey();
        table.AddColumn<long>("through").NotNull();
    });

    /// <summary>What the projection could not take in: a fact by its event, or a thing that keeps the state that it had.</summary>
    public static Table SetAside(string schema = Schema) => Make("fl_set_aside", schema, table =>
    {
        table.AddColumn<string>("tenant_id").AsPrimaryKey();
        table.AddColumn<string>("id").AsPrimaryKey();
        table.AddColumn<Guid>("event_id");
        table.AddColumn<string>("thing");
        table.AddColumn<string>("error").NotNull();
        table.AddColumn("at", "timestamp with time zone").NotNull();
    });

    /// <summary>
    /// Which fact belongs to which list: that of a thing, of a site (its own things and those that they lean on) and of the whole
    /// organisation. A position is the sequence of the newest event behind the row; rows are only ever added.
    /// </summary>
    public static Table Facts(string schema = Schema) => Make("fl_fact", schema, table =>
    {
        table.AddColumn<string>("tenant_id").AsPrimaryKey();
        table.AddColumn<string>("list").AsPrimaryKey();
        table.AddColumn("happened_at", "timestamp with time zone").AsPrimaryKey();
        table.AddColumn<Guid>("event_id").AsPrimaryKey();
        table.AddColumn<long>("position").NotNull();
        table.AddColumn<string>("source").NotNull();
        table.AddColumn<string>("type").NotNull();
        table.AddColumn<string>("site_id").NotNull();
        table.Indexes.Add(new IndexDefinition("fl_fact_position") { Columns = ["tenant_id", "list", "position", "event_id"] });
    });

    /// <summary>Which things belong to the facts of which site, and how many steps away; rows are only ever added, steps become fewer.</summary>
    public static Table SiteThings(string schema = Schema) => Make("fl_site_thing", schema, table =>
    {
        table.AddColumn<string>("tenant_id").AsPrimaryKey();
        table.AddColumn<string>("thing").AsPrimaryKey();
        table.AddColumn<string>("site_id").AsPrimaryKey();
        table.AddColumn<int>("steps").NotNull();
        table.Indexes.Add(new IndexDefinition("fl_site_thing_site") { Columns = ["tenant_id", "site_id"] });
    });

    /// <summary>The corrections of each fact.</summary>
    public static Table Corrections(string schema = Schema) => Make("fl_correction", schema, table =>
    {
        table.AddColumn<string>("tenant_id").AsPrimaryKey();
        table.AddColumn<Guid>("target_id").AsPrimaryKey();
        table.AddColumn<Guid>("correction_id").AsPrimaryKey();
    });

    /// <summary>The table that says whether the lists of facts are whole.</summary>
    public const string FactsWholeName = "fl_facts_whole";

    /// <summary>One row where the lists of facts hold all that was projected: they came later than the rest.</summary>
    public static Table FactsWhole(string schema = Schema) => Make(FactsWholeName, schema, table =>
    {
        table.AddColumn<bool>("one").AsPrimaryKey();
    });

    /// <summary>The tables of states: all that a rebuild makes again.</summary>
    public static readonly string[] OfStates =
    [
        "fl_link", "fl_reading", "fl_state", "fl_circuit", "fl_waiting_correction", "fl_set_aside", PhotoTables.OfPhotos, VisitRows.Name,
        "fl_fact", "fl_site_thing", "fl_correction", FactsWholeName,
    ];

    /// <summary>All of them.</summary>
    public static IEnumerable<Table> All() =>
        [
            Devices(), .. StatesIn(Schema), Changes(), Emitted(), PhotoTables.Attachments(), SubscriptionTables.Subscriptions(), SubscriptionTables.Parked(),
            .. LedgerTables.All(), FeatureTables.Features(), FeatureTables.Places(),
        ];

    /// <summary>The tables of states in any schema.</summary>
    public static IEnumerable<Table> StatesIn(string schema) =>
    [
        Links(schema), Readings(schema), States(schema), Circuits(schema), WaitingCorrections(schema), SetAside(schema), PhotoTables.Photos(schema),
        VisitRows.Visits(schema), Facts(schema), SiteThings(schema), Corrections(schema), FactsWhole(schema),
    ];

    /// <summary>A table of that name, as described.</summary>
    public static Table Make(string name, string schema, Action<Table> describe)
    {
        var table = new Table($"{schema}.{name}");
        describe(table);
        return table;
    }
}
