using System.Buffers.Binary;
using System.Security.Cryptography;
using FleetLight.FieldAgent.Faults;
using Microsoft.Data.Sqlite;

namespace FleetLight.FieldAgent.Outbox;

/// <summary>
/// The outbox on disk: SQLite with a write-ahead log and full synchronisation, so that what a transaction wrote has reached the
/// disk when it ends. Several processes may use it at once. Safe for several threads.
/// </summary>
internal sealed class OutboxFile : IDisposable
{
    /// <summary>Name of the file in the agent's folder.</summary>
    public const string Name = "outbox.db";

    private const int HeaderBytes = 100;
    private const int ApplicationIdAt = 68;
    private const int DefaultTimeoutSeconds = 30;
    private readonly Lock use = new();
    private readonly SqliteConnection connection;
    private readonly MarkFile mark;
    private readonly IFaultPoints faults;

    private OutboxFile(string path, SqliteConnection connection, MarkFile mark, IFaultPoints faults)
    {
        Path = path;
        this.connection = connection;
        this.mark = mark;
        this.faults = faults;
    }

    /// <summary>Where it is.</summary>
    public string Path { get; }

    /// <summary>Opens the outbox of a folder; a new one where there is none.</summary>
    /// <exception cref="OutboxDamagedException">The file is not whole.</exception>
    public static OutboxFile Open(string folder, IFaultPoints faults)
    {
        var path = System.IO.Path.Combine(folder, Name);
        var mark = new MarkFile(folder, faults);
        // Before the outbox: another process may record meanwhile, the outbox first.
        var answered = mark.Read();
        if (!File.Exists(path))
        {
            if (File.Exists(System.IO.Path.Combine(folder, Identity.IdentityFile.Name)))
                throw new OutboxDamagedException(path, "it is gone, though the device is enrolled.");
            if (answered is not null) throw new OutboxDamagedException(path, $"it is gone, though facts through number {answered} were recorded.");
            Make(folder, path, faults);
        }

        CheckHeader(path);
        try
        {
            Check(path, answered ?? 0);
            return new OutboxFile(path, Connect(path, SqliteOpenMode.ReadWrite), mark, faults);
        }
        catch (SqliteException bad) when (IsDamage(bad))
        {
            throw new OutboxDamagedException(path, $"{bad.Message.TrimEnd('.')}.", bad);
        }
    }

    /// <summary>Reads.</summary>
    public T Read<T>(Func<Statements, T> read)
    {
        lock (use) return Told(() => read(new Statements(connection, null)));
    }

    /// <summary>Writes facts, all or nothing, and remembers beside the outbox how far they go before it returns.</summary>
    /// <param name="what">Names the write, for the places where the power may go.</param>
    /// <param name="write">The statements; answers what was written.</param>
    /// <param name="through">The greatest number that was written.</param>
    public T WriteFacts<T>(string what, Func<Statements, T> write, Func<T, int> through)
    {
        lock (use)
        {
            var result = Write(what, write);
            mark.Raise(through(result));
            return result;
        }
    }

    /// <summary>Writes, all or nothing. When it returns, what was written has reached the disk.</summary>
    /// <param name="what">Names the write, for the places where the power may go.</param>
    /// <param name="write">The statements.</param>
    public T Write<T>(string what, Func<Statements, T> write)
    {
        lock (use)
        {
            return Told(() =>
            {
                faults.Reach($"{what}.before");
                using var transaction = connection.BeginTransaction(deferred: false);
                var step = 0;
                var result = write(new Statements(connection, transaction, () => faults.Reach($"{what}.{step++}")));
                faults.Reach($"{what}.uncommitted");
                transaction.Commit();
                faults.Reach($"{what}.committed");
                return result;
            });
        }
    }

    /// <summary>Writes, all or nothing.</summary>
    public void Write(string what, Action<Statements> write) => Write(what, statements =>
    {
        write(statements);
        return 0;
    });

    /// <inheritdoc/>
    public void Dispose()
    {
        lock (use) connection.Dispose();
    }

    // Made beside and put in its place when it is whole: an empty or half-made file is then always damage.
    private static void Make(string folder, string path, IFaultPoints faults)
    {
        PrivateFiles.MakeFolder(folder);
        var beside = System.IO.Path.Combine(folder, $"{Name}.{Environment.ProcessId}.new");
        PrivateFiles.Delete(beside);
        PrivateFiles.Delete(beside + "-wal");
        PrivateFiles.Delete(beside + "-shm");
        PrivateFiles.Create(beside).Dispose();
        faults.Reach("make.created");
        using (var connection = Connect(beside, SqliteOpenMode.ReadWrite))
        {
            using var transaction = connection.BeginTransaction(deferred: false);
            var statements = new Statements(connection, transaction);
            statements.Run($"pragma application_id = {Schema.ApplicationId}");
            statements.Run($"pragma user_version = {Schema.Version}");
            statements.Run(Schema.Create);
            transaction.Commit();
        }

        faults.Reach("make.filled");
        // Another process may have been quicker; the one that is in place stays.
        PrivateFiles.PutInPlace(beside, path);
        faults.Reach("make.placed");
    }

    private static SqliteConnection Connect(string path, SqliteOpenMode mode)
    {
        var connection = new SqliteConnection(new SqliteConnectionStringBuilder
        {
            DataSource = path,
            Mode = mode,
            Pooling = false,
            DefaultTimeout = DefaultTimeoutSeconds,
        }.ToString());
        try
        {
            connection.Open();
            if (mode == SqliteOpenMode.ReadOnly) return connection;
            var statements = new Statements(connection, null);
            if (statements.Text("pragma journal_mode = wal") != "wal")
                throw new InvalidOperationException($"{path} cannot be kept with a write-ahead log on this file system. Choose a folder on a local disk.");
            // Synchronisation belongs to the connection, not to the file.
            statements.Run("pragma synchronous = full");
            statements.Run("pragma trusted_schema = off");
            return connection;
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }

    private static void CheckHeader(string path)
    {
        var header = new byte[HeaderBytes];
        using var file = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
        var read = file.ReadAtLeast(header, HeaderBytes, throwOnEndOfStream: false);
        if (read < HeaderBytes) throw new OutboxDamagedException(path, $"it has {read} bytes, less than its header.");
        if (!header.AsSpan().StartsWith("SQLite format 3\0"u8)) throw new OutboxDamagedException(path, "it does not begin as an outbox does.");
        if (BinaryPrimitives.ReadInt32BigEndian(header.AsSpan(ApplicationIdAt)) != Schema.ApplicationId)
            throw new OutboxDamagedException(path, "it is a file of something else than FleetLight, or its header was changed.");
    }

    // By a connection that cannot write: whatever is found, the file stays as it is.
    private static void Check(string path, int answered)
    {
        using var connection = Connect(path, SqliteOpenMode.ReadOnly);
        var statements = new Statements(connection, null);
        if (statements.Number("pragma user_version") is not (>= 1 and <= Schema.Version) and var version)
        {
            throw new OutboxDamagedException(
                path, $"its layout has the version {version}; this agent knows versions up to {Schema.Version}. A newer agent may have written it.");
        }

        if (statements.Text("pragma integrity_check(1)") is not "ok" and var found)
            throw new OutboxDamagedException(path, $"{found?.ReplaceLineEndings(" ").TrimEnd('.')}.");
        var last = long.Parse(statements.Text("select value from setting where name = 'last-number'") ?? "-1", System.Globalization.CultureInfo.InvariantCulture);
        if (statements.Number("select coalesce(max(number), 0) from fact") is not { } highest || highest > last)
            throw new OutboxDamagedException(path, $"its count of facts stands at {last}, below a fact that it holds.");
        if (last < answered)
        {
            throw new OutboxDamagedException(
                path, $"it holds facts through number {last}, but facts through number {answered} were recorded. Its write-ahead log ({Name}-wal) was damaged "
                + $"or is not the one that belongs to it; what it holds behind the damage still stands in it. Or an older copy of {Name} alone was put back: "
                + $"if that was meant, delete {MarkFile.Name} beside it.");
        }

        // SQLite keeps no check sums of what its pages hold.
        statements.Each("select number, text, digest from fact", row =>
            DigestOf((byte[])row[1]).AsSpan().SequenceEqual((byte[])row[2])
                ? true
                : throw new OutboxDamagedException(path, $"fact number {row.GetInt64(0)} is not as it was written."));
    }

    /// <summary>What shows whether a fact is as it was written: the first 16 bytes of its SHA-256.</summary>
    public static byte[] DigestOf(byte[] text) => SHA256.HashData(text)[..16];

    private T Told<T>(Func<T> work)
    {
        try
        {
            return work();
        }
        catch (SqliteException bad) when (IsDamage(bad))
        {
            throw new OutboxDamagedException(Path, $"{bad.Message.TrimEnd('.')}.", bad);
        }
        catch (SqliteException full) when (full.SqliteErrorCode is SqliteErrors.Full or SqliteErrors.ReadOnly or SqliteErrors.Input or SqliteErrors.Busy)
        {
            throw new OutboxBlockedException(full.SqliteErrorCode switch
            {
                SqliteErrors.Full => $"The disk with {Path} is full: nothing was recorded. Make room and record it again.",
                SqliteErrors.ReadOnly => $"{Path} cannot be written: nothing was recorded. It has to belong to the user that runs the agent.",
                SqliteErrors.Busy => $"{Path} is held by another program: nothing was recorded. Record it again.",
                _ => $"{Path} cannot be read or written ({full.Message}): nothing was recorded.",
            }, full);
        }
    }

    private static bool IsDamage(SqliteException bad) => bad.SqliteErrorCode is SqliteErrors.Corrupt or SqliteErrors.NotADatabase;

    // Result codes of SQLite (sqlite.org/rescode.html).
    private static class SqliteErrors
    {
        public const int Busy = 5;
        public const int ReadOnly = 8;
        public const int Input = 10;
        public const int Corrupt = 11;
        public const int Full = 13;
        public const int NotADatabase = 26;
    }
}
