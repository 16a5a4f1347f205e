using FleetLight.Service.Store;
using Weasel.Postgresql.Tables;

namespace FleetLight.Service.Photos;

/// <summary>The tables of photos: what facts say of them, which follows from the facts, and their bytes, which do not.</summary>
public static class PhotoTables
{
    /// <summary>Name of the table of photos: one that a rebuild makes again.</summary>
    public const string OfPhotos = "fl_photo";

    /// <summary>Photos that count, by the event of their fact.</summary>
    public static Table Photos(string schema = Tables.Schema) => Tables.Make(OfPhotos, schema, table =>
    {
        table.AddColumn<string>("tenant_id").AsPrimaryKey();
        table.AddColumn<Guid>("event_id").AsPrimaryKey();
        table.AddColumn<string>("site_id").NotNull();
        table.AddColumn<string>("kind").NotNull();
        table.AddColumn<string>("thing_id").NotNull();
        table.AddColumn<string>("sha256").NotNull();
        table.AddColumn("happened_at", "timestamp with time zone").NotNull();
        table.AddColumn<string>("body").NotNull();
        table.Indexes.Add(new IndexDefinition("fl_photo_thing") { Columns = ["tenant_id", "kind", "thing_id", "happened_at", "event_id"] });
        table.Indexes.Add(new IndexDefinition("fl_photo_site") { Columns = ["tenant_id", "site_id", "happened_at", "event_id"] });
        table.Indexes.Add(new IndexDefinition("fl_photo_time") { Columns = ["tenant_id", "happened_at", "event_id"] });
    });

    /// <summary>Bytes in hand, by their digest. They are in the back-up like everything else, and move with their organisation.</summary>
    public static Table Attachments() => Tables.Make("fl_attachment", Tables.Schema, table =>
    {
        table.AddColumn<string>("tenant_id").AsPrimaryKey();
        table.AddColumn<string>("sha256").AsPrimaryKey();
        table.AddColumn<string>("media_type").NotNull();
        table.AddColumn<int>("size_bytes").NotNull();
        table.AddColumn("kept_at", "timestamp with time zone").NotNull();
        table.AddColumn("body", "bytea").NotNull();
    });
}
