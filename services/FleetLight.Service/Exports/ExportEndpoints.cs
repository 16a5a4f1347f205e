using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Access;
using FleetLight.Service.Hosting;
using FleetLight.Service.Ledger;
using FleetLight.Service.MadeFiles;
using FleetLight.Service.Store;
using Npgsql;

namespace FleetLight.Service.Exports;

/// <summary>Everything that an organisation recorded, to take along.</summary>
public static class ExportEndpoints
{
    /// <summary>Where they are.</summary>
    public const string Path = "/v1/export";

    /// <summary>Maps them.</summary>
    public static void MapExports(this IEndpointRouteBuilder routes)
    {
        const string resumed = "A range of its bytes may be asked for, with If-Range; gzip for all of it.";
        Map("/facts", FactsAsync)
            .WithSummary("All facts, a line each")
            .WithDescription(
                "Every fact that the organisation ever recorded, in the order of its ledger, up to the checkpoint of 'size': what was sent, and the times "
                + $"and notes of the service. The bytes of a size never change. {resumed} The digest (Repr-Digest, SHA-256) of more than 8 MiB is "
                + "in the header once the manifest was asked for.")
            .Produces<byte[]>(200, FactExport.LinesMediaType);
        Map("/leaf-hashes", HashesAsync)
            .WithSummary("The leaf hashes of all facts, a line each")
            .WithDescription($"64 hexadecimal digits a line, in the order of the ledger: with them a checker says which line was altered. {resumed}")
            .Produces<byte[]>(200, "text/plain");
        Map("/tables/{table}", TableAsync)
            .WithSummary("A table of what is built, read or found")
            .WithDescription(
                "As it stands now (RFC 4180, UTF-8, units in the header). The ETag changes whenever a byte does. Where it is still being made after some seconds "
                + "the answer is 503 with Retry-After; ask the same again within a minute after that. "
                + $"'happenedFrom' and 'happenedTo' narrow readings. {resumed}")
            .Produces<byte[]>(200, Answers.CsvMediaType).ProducesProblems(429, 503);
        routes.MapGet(Path + "/manifest", ManifestAsync).Needs(Scope.ReadAsBuilt).ReadableElsewhere(routes).WithTags("Export")
            .WithSummary("What an export consists of")
            .WithDescription(
                "The signed checkpoint, the keys, the length and SHA-256 of the file of facts, and the pictures by their digests. Where the digest is not "
                + "known yet it is worked out, which takes about a minute for a million facts; the answer then begins with line breaks, which JSON allows.")
            .Produces<ExportManifest>().ProducesProblems(400, 401, 403, 404);

        RouteHandlerBuilder Map(string path, Delegate handler)
        {
            // What HEAD is follows from GET (RFC 9110, 9.3.2), so it is not described by itself.
            routes.MapMethods(Path + path, [HttpMethods.Head], handler).Needs(Scope.ReadAsBuilt).ReadableElsewhere(routes).ExcludeFromDescription();
            return routes.MapGet(Path + path, handler).Needs(Scope.ReadAsBuilt).ReadableElsewhere(routes).WithTags("Export")
                .WithMetadata(new StableBytes()).Produces(206).Produces(304).ProducesProblems(400, 401, 403, 404, 416);
        }
    }

    private static async Task<IResult> FactsAsync(
        Caller caller, CheckpointDesk checkpoints, NpgsqlDataSource database, ILogger<FactExport> log, CancellationToken cancel, long? size = null)
    {
        var (checkpoint, problem) = await OfSizeAsync(caller, checkpoints, size, cancel);
        if (checkpoint is null) return Problems.Result(problem!);
        var export = await FactExport.OpenAsync(database, caller.Organisation, checkpoint, log, cancel);
        return new StableFileResult(await export.WithDigestAsync(cancel));
    }

    private static async Task<IResult> HashesAsync(
        Caller caller, CheckpointDesk checkpoints, NpgsqlDataSource database, CancellationToken cancel, long? size = null)
    {
        var (checkpoint, problem) = await OfSizeAsync(caller, checkpoints, size, cancel);
        return checkpoint is null ? Problems.Result(problem!) : new StableFileResult(new LeafHashes(database, caller.Organisation, checkpoint));
    }

    private static async Task<IResult> TableAsync(
        string table, HttpContext context, Caller caller, MadeFileDesk<TableOf> desk, CancellationToken cancel,
        string? happenedFrom = null, string? happenedTo = null)
    {
        if (!Query.TryEnum<ExportTable>(table, "table", out var wanted, out _) || wanted is not { } one)
            return Problems.Result(Problems.NotFound("table", table) with { Remedy = $"Ask for one of {string.Join(", ", Enum.GetValues<ExportTable>().Select(Query.Word))}." });
        if (!Query.TryTime(happenedFrom, "happenedFrom", out var from, out var problem) || !Query.TryTime(happenedTo, "happenedTo", out var to, out problem))
            return Problems.Result(problem!);
        // Whoever has a part of a table goes on with the same, though there is a newer one.
        var partOf = context.Request.Headers is { Range.Count: > 0, IfRange: { Count: > 0 } tag } ? tag.ToString() : null;
        (var opened, problem) = await desk.OpenAsync(new TableOf(caller.Organisation, one, from, to), partOf, TimeSpan.Zero, cancel);
        if (opened is null)
        {
            context.Response.Headers.RetryAfter = problem!.Status == StatusCodes.Status503ServiceUnavailable ? "3" : "10";
            return Problems.Result(problem);
        }

        var made = new TableExport(Query.Word(one), opened);
        context.Response.RegisterForDispose(made);
        return new StableFileResult(made);
    }

    private static async Task<IResult> ManifestAsync(
        Caller caller, CheckpointDesk checkpoints, LedgerKeys keys, NpgsqlDataSource database, ILogger<FactExport> log, CancellationToken cancel, long? size = null)
    {
        var (checkpoint, problem) = await OfSizeAsync(caller, checkpoints, size, cancel);
        if (checkpoint is null) return Problems.Result(problem!);
        var export = await FactExport.OpenAsync(database, caller.Organisation, checkpoint, log, cancel);
        var attachments = await AttachmentsAsync(database, caller.Organisation, cancel);
        var known = await keys.AllAsync(cancel);
        return new ManifestResult(export, (bytes, sha256) => new ExportManifest
        {
            Kind = "fleetlight-export-v1",
            Organisation = caller.Organisation,
            Size = checkpoint.Size,
            Checkpoint = checkpoint,
            Keys = known,
            Attachments = attachments,
            Facts = new ExportFile(FormattableString.Invariant($"{Path}/facts?size={checkpoint.Size}"), export.MediaType, bytes, Convert.ToHexStringLower(sha256)),
        });
    }

    private static async Task<(CheckpointView? Checkpoint, Problem? Problem)> OfSizeAsync(
        Caller caller, CheckpointDesk checkpoints, long? size, CancellationToken cancel) =>
        await checkpoints.FindAsync(caller.Organisation, size, cancel) is { } checkpoint
            ? (checkpoint, null)
            : (null, size is null ? LedgerEndpoints.None() : LedgerEndpoints.NoSuchSize());

    private static async Task<List<ExportAttachment>> AttachmentsAsync(NpgsqlDataSource database, string organisation, CancellationToken cancel)
    {
        await using var command = database.CreateCommand(
            $"select sha256, media_type, size_bytes from {Tables.Schema}.fl_attachment where tenant_id = $1 order by sha256");
        command.Parameters.Add(new NpgsqlParameter { Value = organisation });
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var found = new List<ExportAttachment>();
        while (await reader.ReadAsync(cancel)) found.Add(new ExportAttachment(reader.GetString(0), reader.GetString(1), reader.GetInt32(2)));
        return found;
    }
}

/// <summary>Marks endpoints that answer with a file whose bytes stay, for their description.</summary>
public sealed record StableBytes;
