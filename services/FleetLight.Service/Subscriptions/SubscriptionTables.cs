using FleetLight.Service.Store;
using Weasel.Postgresql.Tables;

namespace FleetLight.Service.Subscriptions;

/// <summary>Tables of subscriptions. They are no states: a rebuild leaves them alone.</summary>
public static class SubscriptionTables
{
    /// <summary>Who is told what, and how far.</summary>
    public static Table Subscriptions() => Tables.Make("fl_subscription", Tables.Schema, table =>
    {
        table.AddColumn<string>("tenant_id").AsPrimaryKey();
        table.AddColumn<string>("id").AsPrimaryKey();
        table.AddColumn<string>("holder");
        table.AddColumn<string>("url").NotNull();
        table.AddColumn<string>("filter").NotNull();
        table.AddColumn<string>("sealed").NotNull();
        table.AddColumn<string>("sealed_before");
        table.AddColumn("before_until", "timestamp with time zone");
        table.AddColumn("created_at", "timestamp with time zone").NotNull();
        table.AddColumn<long>("position").NotNull();
        table.AddColumn<int>("ordinal").NotNull();
        table.AddColumn("due_at", "timestamp with time zone").NotNull();
        table.AddColumn<int>("attempts").NotNull().DefaultValue(0);
        table.AddColumn<string>("last_error");
        table.AddColumn("told_at", "timestamp with time zone");
        table.AddColumn<bool>("ended").NotNull().DefaultValueByExpression("false");
        table.Indexes.Add(new IndexDefinition("fl_subscription_due") { Columns = ["due_at"], Predicate = "not ended" });
    });

    /// <summary>What could not be told and waits for a person: its place, from which it is read again.</summary>
    public static Table Parked() => Tables.Make("fl_parked", Tables.Schema, table =>
    {
        table.AddColumn<string>("tenant_id").AsPrimaryKey();
        table.AddColumn<string>("subscription_id").AsPrimaryKey();
        table.AddColumn<string>("id").AsPrimaryKey();
        table.AddColumn<long>("position").NotNull();
        table.AddColumn<int>("ordinal").NotNull();
        table.AddColumn<string>("type").NotNull();
        table.AddColumn<string>("source").NotNull();
        table.AddColumn<string>("event_id").NotNull();
        table.AddColumn<string>("error").NotNull();
        table.AddColumn("parked_at", "timestamp with time zone").NotNull();
        table.AddColumn<bool>("again").NotNull().DefaultValueByExpression("false");
        table.Indexes.Add(new IndexDefinition("fl_parked_again") { Columns = ["tenant_id", "subscription_id"], Predicate = "again" });
    });
}
