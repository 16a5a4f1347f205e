using Microsoft.Data.Sqlite;

namespace FleetLight.FieldAgent.Outbox;

/// <summary>Statements on the outbox within one transaction, or outside any where they only read.</summary>
internal sealed class Statements(SqliteConnection connection, SqliteTransaction? transaction, Action? reached = null)
{
    /// <summary>Runs a statement that writes; answers how many rows it touched.</summary>
    public int Run(string sql, params (string Name, object? Value)[] values)
    {
        reached?.Invoke();
        using var command = Make(sql, values);
        return command.ExecuteNonQuery();
    }

    /// <summary>Reads rows.</summary>
    public List<T> Rows<T>(string sql, Func<SqliteDataReader, T> read, params (string Name, object? Value)[] values)
    {
        using var command = Make(sql, values);
        using var reader = command.ExecuteReader();
        var rows = new List<T>();
        while (reader.Read()) rows.Add(read(reader));
        return rows;
    }

    /// <summary>Reads rows until <paramref name="take"/> says that it has enough.</summary>
    public void Each(string sql, Func<SqliteDataReader, bool> take, params (string Name, object? Value)[] values)
    {
        using var command = Make(sql, values);
        using var reader = command.ExecuteReader();
        while (reader.Read() && take(reader))
        {
            // The next one.
        }
    }

    /// <summary>Reads one number; none where there is no row.</summary>
    public long? Number(string sql, params (string Name, object? Value)[] values)
    {
        using var command = Make(sql, values);
        return command.ExecuteScalar() as long?;
    }

    /// <summary>Reads one text; none where there is no row.</summary>
    public string? Text(string sql, params (string Name, object? Value)[] values)
    {
        using var command = Make(sql, values);
        return command.ExecuteScalar() as string;
    }

    private SqliteCommand Make(string sql, (string Name, object? Value)[] values)
    {
        var command = connection.CreateCommand();
        command.Transaction = transaction;
#pragma warning disable CA2100 // Every statement is a constant of this assembly; what comes from outside is a parameter.
        command.CommandText = sql;
#pragma warning restore CA2100
        foreach (var (name, value) in values) command.Parameters.AddWithValue(name, value ?? DBNull.Value);
        return command;
    }
}
