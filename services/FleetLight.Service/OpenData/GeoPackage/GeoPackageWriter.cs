using FleetLight.OpenData.Cql;
using FleetLight.OpenData.Features;
using Microsoft.Data.Sqlite;
using NetTopologySuite.Geometries;
using NetTopologySuite.IO;

namespace FleetLight.Service.OpenData.GeoPackage;

/// <summary>
/// Writes a GeoPackage (OGC 12-128r18, version 1.3): a table a collection, in longitude and latitude of WGS 84. The same features make
/// the same bytes: nothing in it depends on when or where it is written.
/// </summary>
public sealed class GeoPackageWriter : IDisposable
{
    private readonly SqliteConnection connection;
    private readonly SqliteTransaction transaction;
    private readonly string changedAt;

    /// <summary>Begins a file.</summary>
    /// <param name="file">Its path; nothing is there yet.</param>
    /// <param name="asOf">As of when the features stand.</param>
    public GeoPackageWriter(string file, DateTimeOffset asOf)
    {
        changedAt = CqlTimes.Text(asOf);
        connection = new SqliteConnection(new SqliteConnectionStringBuilder { DataSource = file, Pooling = false }.ToString());
        connection.Open();
        // "GPKG" and 1.3.0 in the file's header. What is half made is thrown away: no journal is needed.
        Run("pragma application_id = 0x47504B47; pragma user_version = 10300; pragma journal_mode = off; pragma synchronous = off");
        transaction = connection.BeginTransaction();
        Run(Frame);
    }

    // Definitions of the standard's own tables, and the systems that it asks for.
    private const string Frame =
        """
        create table gpkg_spatial_ref_sys (srs_name text not null, srs_id integer not null primary key, organization text not null,
          organization_coordsys_id integer not null, definition text not null, description text);
        insert into gpkg_spatial_ref_sys values
          ('Undefined Cartesian', -1, 'NONE', -1, 'undefined', 'undefined Cartesian coordinate reference system'),
          ('Undefined geographic', 0, 'NONE', 0, 'undefined', 'undefined geographic coordinate reference system'),
          ('WGS 84', 4326, 'EPSG', 4326,
           'GEOGCS["WGS 84",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563,AUTHORITY["EPSG","7030"]],AUTHORITY["EPSG","6326"]],'
           || 'PRIMEM["Greenwich",0,AUTHORITY["EPSG","8901"]],'
           || 'UNIT["degree",0.0174532925199433,AUTHORITY["EPSG","9122"]],AXIS["Latitude",NORTH],AXIS["Longitude",EAST],AUTHORITY["EPSG","4326"]]',
           'longitude and latitude in this file');
        create table gpkg_contents (table_name text not null primary key, data_type text not null, identifier text unique, description text default '',
          last_change datetime not null, min_x double, min_y double, max_x double, max_y double, srs_id integer,
          constraint fk_gc_r_srs_id foreign key (srs_id) references gpkg_spatial_ref_sys(srs_id));
        create table gpkg_geometry_columns (table_name text not null, column_name text not null, geometry_type_name text not null, srs_id integer not null,
          z tinyint not null, m tinyint not null, constraint pk_geom_cols primary key (table_name, column_name),
          constraint uk_gc_table_name unique (table_name), constraint fk_gc_tn foreign key (table_name) references gpkg_contents(table_name),
          constraint fk_gc_srs foreign key (srs_id) references gpkg_spatial_ref_sys(srs_id));
        """;

    /// <summary>Writes a collection as a table.</summary>
    public async Task WriteAsync(FeatureKind kind, IAsyncEnumerable<FeatureRow> rows, CancellationToken cancel)
    {
        var reach = new Envelope();
        var columns = string.Concat(kind.Properties.Select(property => $", \"{ColumnOf(property)}\" {TypeOf(property.Kind)}"));
        Run($"create table \"{kind.Id}\" (fid integer primary key autoincrement not null, geom {ShapeOf(kind.Shape)}, feature_id text not null{columns})");
        await using (var insert = connection.CreateCommand())
        {
            insert.Transaction = transaction;
            var values = new SqliteParameter[kind.Properties.Count + 2];
            for (var i = 0; i < values.Length; i++) values[i] = insert.Parameters.Add(new SqliteParameter($"$p{i}", null));
            insert.CommandText = $"insert into \"{kind.Id}\" (geom, feature_id{string.Concat(kind.Properties.Select(property => $", \"{ColumnOf(property)}\""))}) "
                + $"values ({string.Join(", ", values.Select(value => value.ParameterName))})";
            await foreach (var row in rows.WithCancellation(cancel))
            {
                values[0].Value = row.Shape is { } shape ? Bytes(shape) : DBNull.Value;
                values[1].Value = row.Id;
                for (var i = 0; i < row.Values.Count; i++) values[i + 2].Value = Plain(row.Values[i]);
                if (row.Shape is { } known) reach.ExpandToInclude(known.EnvelopeInternal);
                insert.ExecuteNonQuery();
            }
        }

        Describe(kind, reach);
    }

    /// <summary>Ends the file.</summary>
    public void Complete() => transaction.Commit();

    /// <inheritdoc/>
    public void Dispose()
    {
        transaction.Dispose();
        connection.Dispose();
    }

    private void Describe(FeatureKind kind, Envelope reach)
    {
        using var contents = connection.CreateCommand();
        contents.Transaction = transaction;
        contents.CommandText =
            """
            insert into gpkg_contents (table_name, data_type, identifier, description, last_change, min_x, min_y, max_x, max_y, srs_id)
              values ($table, 'features', $title, $says, $at, $left, $bottom, $right, $top, 4326);
            insert into gpkg_geometry_columns values ($table, 'geom', $shape, 4326, 0, 0);
            """;
        foreach (var (name, value) in (ReadOnlySpan<(string, object)>)
                 [
                     ("$table", kind.Id), ("$title", kind.Title), ("$says", kind.Says), ("$at", changedAt), ("$shape", ShapeOf(kind.Shape)),
                     ("$left", reach.IsNull ? DBNull.Value : reach.MinX), ("$bottom", reach.IsNull ? DBNull.Value : reach.MinY),
                     ("$right", reach.IsNull ? DBNull.Value : reach.MaxX), ("$top", reach.IsNull ? DBNull.Value : reach.MaxY),
                 ])
            contents.Parameters.AddWithValue(name, value);
        contents.ExecuteNonQuery();
    }

    private void Run(string sql)
    {
        using var command = connection.CreateCommand();
        command.Transaction = transaction;
        command.CommandText = sql;
        command.ExecuteNonQuery();
    }

    /// <summary>The column of a property. 'fid' and 'geom' are the file's own, and the id of the feature stands in 'feature_id'.</summary>
    public static string ColumnOf(FeatureProperty property) => property.Name;

    // "GP", version 0, little endian with a rectangle (no rectangle for a point, as is usual), then well-known binary.
    private static byte[] Bytes(Geometry shape)
    {
        using var written = new MemoryStream();
        using var writer = new BinaryWriter(written);
        var isPoint = shape is Point;
        writer.Write([(byte)'G', (byte)'P', 0, (byte)(isPoint ? 0b0001 : 0b0011)]);
        writer.Write(4326);
        if (!isPoint)
        {
            var reach = shape.EnvelopeInternal;
            foreach (var side in (ReadOnlySpan<double>)[reach.MinX, reach.MaxX, reach.MinY, reach.MaxY]) writer.Write(side);
        }

        writer.Write(new WKBWriter(ByteOrder.LittleEndian).Write(shape));
        writer.Flush();
        return written.ToArray();
    }

    private static object Plain(object? value) => value switch
    {
        null => DBNull.Value,
        DateTimeOffset time => CqlTimes.Text(time),
        bool flag => flag ? 1L : 0L,
        _ => value,
    };

    private static string TypeOf(ValueKind kind) => kind switch
    {
        ValueKind.Number => "DOUBLE",
        ValueKind.Whole => "INTEGER",
        ValueKind.Flag => "BOOLEAN",
        ValueKind.Time => "DATETIME",
        _ => "TEXT",
    };

    private static string ShapeOf(ShapeKind kind) => kind switch
    {
        ShapeKind.Point => "POINT",
        ShapeKind.Line => "LINESTRING",
        ShapeKind.Lines => "MULTILINESTRING",
        _ => "MULTIPOINT",
    };
}
