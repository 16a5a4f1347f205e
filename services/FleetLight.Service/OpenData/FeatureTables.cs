using FleetLight.Service.Store;
using Weasel.Postgresql.Tables;

namespace FleetLight.Service.OpenData;

/// <summary>
/// The tables from which open data are answered. They hold nothing that the states do not say, are filled when somebody asks, and
/// follow the change feed from there; a rebuild of the states has them made anew.
/// </summary>
public static class FeatureTables
{
    /// <summary>Every feature but the readings, with the rectangle that it reaches.</summary>
    public static Table Features() => Tables.Make("fl_feature", Tables.Schema, table =>
    {
        table.AddColumn<string>("tenant_id").AsPrimaryKey();
        table.AddColumn<string>("collection").AsPrimaryKey();
        table.AddColumn<string>("id").AsPrimaryKey();
        // The thing that it was made of, as kind:id.
        table.AddColumn<string>("owner").NotNull();
        table.AddColumn<string>("site_id");
        table.AddColumn("extent", "box");
        table.AddColumn<string>("shape");
        table.AddColumn("properties", "jsonb").NotNull();
        table.Indexes.Add(new IndexDefinition("fl_feature_owner") { Columns = ["tenant_id", "owner"] });
        table.Indexes.Add(new IndexDefinition("fl_feature_site") { Columns = ["tenant_id", "site_id", "collection"] });
        table.Indexes.Add(new IndexDefinition("fl_feature_extent") { Columns = ["extent"], Method = IndexMethod.gist });
    });

    /// <summary>Through which change an organisation's features are known.</summary>
    public static Table Places() => Tables.Make("fl_feature_place", Tables.Schema, table =>
    {
        table.AddColumn<string>("tenant_id").AsPrimaryKey();
        // Which table of states they were made of: a rebuild puts another in its place.
        table.AddColumn<long>("edition").NotNull();
        table.AddColumn<long>("position").NotNull();
        table.AddColumn<int>("ordinal").NotNull();
        // Where filling has come to, as kind:id, behind "again/" where whole features are made anew; none once it is done.
        table.AddColumn<string>("filling");
    });
}
