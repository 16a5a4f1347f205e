using System.Buffers.Text;
using System.Security.Cryptography;
using FleetLight.Contracts.Proofs;
using FleetLight.Contracts.Views;
using FleetLight.Service.Store;
using Npgsql;

namespace FleetLight.Service.Ledger;

/// <summary>
/// The key with which this node signs checkpoints. All nodes are given the same by <c>Ledger__SigningKey</c>; where it is not set, the
/// node that comes to a database without any key makes one in its data folder. The public halves of all that ever signed stay in the
/// database. The secret never gets there: whoever could alter the facts could sign them anew.
/// </summary>
public sealed class LedgerKeys(NpgsqlDataSource database, IConfiguration configuration, TimeProvider clock, ILogger<LedgerKeys> log) : IHostedService, IDisposable
{
    /// <summary>Name of the file in the data folder.</summary>
    public const string FileName = "ledger-key";

    private const long Lock = 0x666c_6c65_6467_6b65;

    private ECDsa? key;

    /// <summary>Name of this node's key; none where it has none and signs nothing.</summary>
    public string? KeyId { get; private set; }

    /// <inheritdoc/>
    public async Task StartAsync(CancellationToken cancellationToken)
    {
        await using var connection = await database.OpenConnectionAsync(cancellationToken);
        await using var transaction = await connection.BeginTransactionAsync(cancellationToken);
        // Two nodes that start at once on a new database must not make a key each.
        await using (var turn = new NpgsqlCommand($"select pg_advisory_xact_lock({Lock})", connection)) await turn.ExecuteNonQueryAsync(cancellationToken);
        key = configuration["Ledger:SigningKey"] is { Length: > 0 } set ? Read(set.Trim(), "Ledger__SigningKey") : await OfFolderAsync(connection, cancellationToken);
        if (key is null) return;
        var point = key.ExportParameters(false).Q;
        var half = new CheckpointKey(point.X!, point.Y!);
        KeyId = half.Id;
        await using var insert = new NpgsqlCommand(
            $"insert into {Tables.Schema}.fl_ledger_key (key_id, x, y, since) values ($1, $2, $3, $4) on conflict (key_id) do nothing", connection);
        foreach (var value in (object[])[half.Id, half.X, half.Y, clock.GetUtcNow()]) insert.Parameters.Add(new NpgsqlParameter { Value = value });
        await insert.ExecuteNonQueryAsync(cancellationToken);
        await transaction.CommitAsync(cancellationToken);
    }

    /// <inheritdoc/>
    public Task StopAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    /// <summary>Signs.</summary>
    public byte[] Sign(byte[] bytes) => (key ?? throw new InvalidOperationException("This node has no key to sign with."))
        .SignData(bytes, HashAlgorithmName.SHA256, DSASignatureFormat.IeeeP1363FixedFieldConcatenation);

    /// <summary>The public halves of all keys that ever signed here, the newest first.</summary>
    public async Task<LedgerKeySet> AllAsync(CancellationToken cancel)
    {
        await using var command = database.CreateCommand($"select key_id, x, y from {Tables.Schema}.fl_ledger_key order by since desc, key_id");
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var keys = new List<LedgerKey>();
        while (await reader.ReadAsync(cancel))
        {
            keys.Add(new LedgerKey
            {
                Kty = "EC",
                Crv = "P-256",
                X = Base64Url.EncodeToString(reader.GetFieldValue<byte[]>(1)),
                Y = Base64Url.EncodeToString(reader.GetFieldValue<byte[]>(2)),
                Kid = reader.GetString(0),
                Use = "sig",
                Alg = "ES256",
            });
        }

        return new LedgerKeySet { Keys = keys };
    }

    /// <inheritdoc/>
    public void Dispose() => key?.Dispose();

    private async Task<ECDsa?> OfFolderAsync(NpgsqlConnection connection, CancellationToken cancel)
    {
        var folder = configuration["FLEETLIGHT_DATA"] ?? ".data";
        var path = Path.Combine(folder, FileName);
        if (File.Exists(path)) return Read((await File.ReadAllTextAsync(path, cancel)).Trim(), $"the file {FileName} of the data folder");
        await using (var any = new NpgsqlCommand($"select exists (select 1 from {Tables.Schema}.fl_ledger_key)", connection))
        {
            if (await any.ExecuteScalarAsync(cancel) is true)
            {
                log.LogWarning(
                    "Checkpoints of the ledger were signed with a key that this node does not have, and it makes none: set Ledger__SigningKey on every node");
                return null;
            }
        }

        var made = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        Directory.CreateDirectory(folder);
        var options = new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows()) options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        await using (var file = new FileStream(path, options))
        await using (var writer = new StreamWriter(file))
            await writer.WriteLineAsync(Convert.ToHexStringLower(made.ExportParameters(true).D!).AsMemory(), cancel);
        log.LogInformation("The key that signs the ledger's checkpoints is in the file {File} of the data folder", FileName);
        return made;
    }

    // 64 hexadecimal digits, or PEM as other programs write it.
    private static ECDsa Read(string text, string where)
    {
        try
        {
            if (text.StartsWith("-----BEGIN", StringComparison.Ordinal))
            {
                var read = ECDsa.Create();
                read.ImportFromPem(text);
                if (read.ExportParameters(false).Curve.Oid?.Value == ECCurve.NamedCurves.nistP256.Oid.Value) return read;
                read.Dispose();
            }
            else if (text.Length == 64)
            {
                return ECDsa.Create(new ECParameters { Curve = ECCurve.NamedCurves.nistP256, D = Convert.FromHexString(text) });
            }
        }
        catch (Exception unread) when (unread is CryptographicException or FormatException or ArgumentException)
        {
            throw new InvalidOperationException($"{where} holds no key: 64 hexadecimal digits or a private key of the curve P-256 as PEM.", unread);
        }

        throw new InvalidOperationException($"{where} holds no key: 64 hexadecimal digits or a private key of the curve P-256 as PEM.");
    }
}
