using Marten;
using Npgsql;

namespace FleetLight.Service.Works;

/// <summary>Finds out whether the database takes what a page writes, also what it looks at only when a transaction ends, and takes it all back.</summary>
public static class PageTrial
{
    /// <summary>Tries it.</summary>
    /// <exception cref="RefusedWriteException">The database refuses something of it, and would each time.</exception>
    public static async Task RunAsync(WorksPage page, IDocumentStore store, NpgsqlDataSource database, string organisation, CancellationToken cancel)
    {
        await using var connection = await database.OpenConnectionAsync(cancel);
        // Ends without a commit, whatever happens.
        await using var transaction = await connection.BeginTransactionAsync(cancel);
        var options = Marten.Services.SessionOptions.ForTransaction(transaction);
        options.TenantId = organisation;
        await using var session = store.LightweightSession(options);
        try
        {
            page.Save(session);
            await session.SaveChangesAsync(cancel);
            await using var now = new NpgsqlCommand("set constraints all immediate", connection, transaction);
            await now.ExecuteNonQueryAsync(cancel);
        }
        catch (Exception fault) when (RefusalIn(fault) is { } refusal)
        {
            throw new RefusedWriteException($"{refusal.SqlState}: {refusal.MessageText}");
        }
    }

    // Classes of PostgreSQL's error codes that speak of the data: too many rows, the data itself, integrity, a view's check, a trigger's
    // or function's own word, a limit of size. Not those of passing trouble, nor those that speak of the tables (42).
    private static PostgresException? RefusalIn(Exception? fault)
    {
        for (; fault is not null; fault = fault.InnerException)
        {
            if (fault is PostgresException refusal) return refusal.SqlState[..2] is "21" or "22" or "23" or "44" or "P0" or "54" ? refusal : null;
        }

        return null;
    }
}

/// <summary>The database refuses to write a page for what it holds.</summary>
/// <param name="words">What the database said.</param>
public sealed class RefusedWriteException(string words) : Exception(words);
