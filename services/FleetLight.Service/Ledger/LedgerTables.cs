using FleetLight.Service.Store;
using Weasel.Postgresql.Tables;

namespace FleetLight.Service.Ledger;

/// <summary>
/// The tables of the ledger. Rows of leaves, nodes, checkpoints and keys are only ever added. A rebuild leaves them alone, a
/// back-up holds them, and they move with their organisation as they stand, for no place in the order of events is in them.
/// </summary>
public static class LedgerTables
{
    /// <summary>All of them.</summary>
    public static IEnumerable<Table> All() => [Leaves(), Nodes(), Heads(), Checkpoints(), Keys(), Progress(), Gaps(), Exports()];

    private static Table Leaves() => Tables.Make("fl_ledger_leaf", Tables.Schema, table =>
    {
        table.AddColumn<string>("tenant_id").AsPrimaryKey();
        table.AddColumn<long>("leaf").AsPrimaryKey();
        table.AddColumn<Guid>("event_id").NotNull();
        table.AddColumn("hash", "bytea").NotNull();
        // Bytes of the export through this fact's line: from it a byte of the export leads to its fact.
        table.AddColumn<long>("ends_at").NotNull();
        table.Indexes.Add(new IndexDefinition("fl_ledger_leaf_event") { Columns = ["tenant_id", "event_id"], IsUnique = true });
    });

    private static Table Nodes() => Tables.Make("fl_ledger_node", Tables.Schema, table =>
    {
        table.AddColumn<string>("tenant_id").AsPrimaryKey();
        table.AddColumn<int>("level").AsPrimaryKey();
        table.AddColumn<long>("node").AsPrimaryKey();
        table.AddColumn("hash", "bytea").NotNull();
    });

    // How far each ledger goes: what a count of its leaves would say.
    private static Table Heads() => Tables.Make("fl_ledger_head", Tables.Schema, table =>
    {
        table.AddColumn<string>("tenant_id").AsPrimaryKey();
        table.AddColumn<long>("size").NotNull();
        table.AddColumn<long>("bytes").NotNull();
    });

    private static Table Checkpoints() => Tables.Make("fl_ledger_checkpoint", Tables.Schema, table =>
    {
        table.AddColumn<string>("tenant_id").AsPrimaryKey();
        table.AddColumn<long>("size").AsPrimaryKey();
        table.AddColumn("root", "bytea").NotNull();
        table.AddColumn("made_at", "timestamp with time zone").NotNull();
        table.AddColumn<string>("key_id").NotNull();
        table.AddColumn<string>("signed").NotNull();
    });

    // Public halves only.
    private static Table Keys() => Tables.Make("fl_ledger_key", Tables.Schema, table =>
    {
        table.AddColumn<string>("key_id").AsPrimaryKey();
        table.AddColumn("x", "bytea").NotNull();
        table.AddColumn("y", "bytea").NotNull();
        table.AddColumn("since", "timestamp with time zone").NotNull();
    });

    // Through which event of the store all facts are in their ledgers, but for the gaps.
    private static Table Progress() => Tables.Make("fl_ledger_progress", Tables.Schema, table =>
    {
        table.AddColumn<bool>("one").AsPrimaryKey();
        table.AddColumn<long>("through").NotNull();
    });

    // Places in the order of events that were empty when the ledger came past: a slow transaction may fill them yet.
    private static Table Gaps() => Tables.Make("fl_ledger_gap", Tables.Schema, table =>
    {
        table.AddColumn<long>("first").AsPrimaryKey();
        table.AddColumn<long>("last").NotNull();
        table.AddColumn("seen_at", "timestamp with time zone").NotNull();
    });

    // Digests of exports that were worked out once: their bytes never change.
    private static Table Exports() => Tables.Make("fl_ledger_export", Tables.Schema, table =>
    {
        table.AddColumn<string>("tenant_id").AsPrimaryKey();
        table.AddColumn<long>("size").AsPrimaryKey();
        table.AddColumn("sha256", "bytea").NotNull();
    });
}
