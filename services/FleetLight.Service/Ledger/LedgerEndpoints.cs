using System.Globalization;
using System.Text;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Ledger;
using FleetLight.Service.Access;
using FleetLight.Service.Hosting;
using FleetLight.Service.Limits;

namespace FleetLight.Service.Ledger;

/// <summary>The ledger: signed checkpoints, and proofs that a fact is in it and that it goes on from what it was.</summary>
public static class LedgerEndpoints
{
    /// <summary>Maps them.</summary>
    public static void MapLedger(this IEndpointRouteBuilder routes)
    {
        var group = routes.MapGroup("/v1/ledger").WithTags("Ledger");
        group.MapGet("/checkpoint", NewestAsync).Needs(Scope.ReadStatus)
            .WithSummary("The newest checkpoint")
            .WithDescription("What the ledger was when it was last signed. Facts recorded since are in the next one, at most some minutes later.")
            .Produces<CheckpointView>().ProducesProblems(401, 403, 404);
        group.MapPost("/checkpoint", MakeAsync).Needs(Scope.ReadStatus).Limited(CallKind.Calculation)
            .WithSummary("Make a checkpoint now")
            .WithDescription("Takes in all that was recorded before the call, and signs. Where nothing is new the newest checkpoint is answered again.")
            .Produces<CheckpointView>().ProducesProblems(401, 403, 404, 503);
        group.MapGet("/checkpoints", ListAsync).Needs(Scope.ReadStatus)
            .WithSummary("Checkpoints, the newest first").WithDescription("None is ever changed or taken away. The Link header names the next page.")
            .Produces<Page<CheckpointView>>().ProducesProblems(400, 401, 403);
        group.MapGet("/keys", KeysAsync).Needs(Scope.ReadStatus)
            .WithSummary("Public keys of checkpoints")
            .WithDescription("A JSON Web Key Set (RFC 7517) with every key that ever signed here. Keep those that you have once believed.")
            .Produces<LedgerKeySet>().ProducesProblems(401, 403);
        group.MapGet("/inclusion/{fact}", InclusionAsync).Needs(Scope.ReadStatus)
            .WithSummary("Proof that a fact is in the ledger")
            .WithDescription(
                "The fact is named as lists name it, 'source#id', percent-encoded. The path leads from the hash of its line to the root of the checkpoint "
                + "of 'size' (RFC 9162, 2.1.3). The line is made of what is kept now: where that was altered, it no longer has that hash.")
            .Produces<InclusionView>().ProducesProblems(400, 401, 403, 404);
        group.MapGet("/consistency", ConsistencyAsync).Needs(Scope.ReadStatus)
            .WithSummary("Proof that the ledger goes on from what it was")
            .WithDescription("Between any two sizes that it has had (RFC 9162, 2.1.4). Without them from nothing to the newest checkpoint.")
            .Produces<ConsistencyView>().ProducesProblems(400, 401, 403, 404);
        group.MapGet("/sites/{id}", SiteAsync).Needs(Scope.ReadStatus)
            .WithSummary("A digest over the facts of a site")
            .WithDescription(
                "Over the facts from which the states of the site's things follow, those of /v1/facts?site=. Whoever has the leaves can make it again; a "
                + "document that quotes it says on which facts it rests.")
            .Produces<SiteLedgerView>().ProducesProblems(401, 403, 404);
        group.MapGet("/sites/{id}/leaves", LeavesAsync).Needs(Scope.ReadStatus)
            .WithSummary("The leaves of the facts of a site").WithDescription("In the order of the ledger. The Link header names the next page.")
            .Produces<Page<LeafView>>().ProducesProblems(400, 401, 403);
    }

    private static async Task<IResult> NewestAsync(Caller caller, CheckpointDesk checkpoints, CancellationToken cancel) =>
        Show(await checkpoints.FindAsync(caller.Organisation, null, cancel));

    private static async Task<IResult> MakeAsync(Caller caller, LedgerAppender appender, CheckpointDesk checkpoints, LedgerKeys keys, CancellationToken cancel) =>
        await TimeLimit.RunAsync(TimeLimit.Answer, async token =>
        {
            await appender.CatchUpAsync(token);
            var made = await checkpoints.MakeAsync(caller.Organisation, token);
            // The newest one there is, where this node cannot sign another.
            made ??= keys.KeyId is null ? await checkpoints.FindAsync(caller.Organisation, null, token) : null;
            return Show(made);
        }, cancel);

    private static async Task<IResult> ListAsync(Caller caller, CheckpointDesk checkpoints, CancellationToken cancel, string? cursor = null, int? limit = null)
    {
        if (!Paging.TryRead(cursor, limit, out var page, out var problem)) return Problems.Result(problem!);
        var below = long.TryParse(page.After, NumberStyles.None, CultureInfo.InvariantCulture, out var size) ? size : long.MaxValue;
        return Paging.ByKey(await checkpoints.ListAsync(caller.Organisation, below, page.Limit + 1, cancel), page, each => Text(each.Size));
    }

    private static async Task<IResult> KeysAsync(LedgerKeys keys, CancellationToken cancel) => Answers.Json(await keys.AllAsync(cancel));

    private static async Task<IResult> InclusionAsync(
        string fact, Caller caller, LedgerQuery ledger, CheckpointDesk checkpoints, CancellationToken cancel, long? size = null)
    {
        // A server leaves the slashes of a path as they were sent.
        var name = Uri.UnescapeDataString(fact);
        if (await ledger.FindAsync(caller.Organisation, name, cancel) is not { } place) return Problems.Result(NotIn(name));
        if (await checkpoints.FindAsync(caller.Organisation, size, cancel) is not { } checkpoint)
            return Problems.Result(size is null ? None() : NoSuchSize());
        if (place.Index >= checkpoint.Size || await ledger.LineAsync(caller.Organisation, place, cancel) is not { } line) return Problems.Result(NotIn(name));
        var path = await ledger.HashesAsync(caller.Organisation, MerkleTree.Inclusion(place.Index, checkpoint.Size), cancel);
        return Answers.Json(new InclusionView
        {
            Fact = name,
            Index = place.Index,
            Line = Encoding.UTF8.GetString(line),
            LeafHash = Convert.ToHexStringLower(place.Hash),
            Path = [.. path.Select(Convert.ToHexStringLower)],
            Checkpoint = checkpoint,
        });
    }

    private static async Task<IResult> ConsistencyAsync(
        Caller caller, LedgerQuery ledger, CheckpointDesk checkpoints, CancellationToken cancel, long? first = null, long? second = null)
    {
        var size = await ledger.SizeAsync(caller.Organisation, cancel);
        if (size == 0 || (second ?? (await checkpoints.FindAsync(caller.Organisation, null, cancel))?.Size) is not { } to) return Problems.Result(None());
        var from = first ?? 0;
        if (to < 0 || to > size) return Problems.Result(Beyond("second", size));
        if (from < 0 || from > to) return Problems.Result(Beyond("first", to));
        var path = MerkleTree.Consistency(from, to);
        var hashes = await ledger.HashesAsync(caller.Organisation, [.. path, (0, from), (0, to)], cancel);
        return Answers.Json(new ConsistencyView
        {
            First = from,
            FirstRoot = Convert.ToHexStringLower(hashes[^2]),
            Second = to,
            SecondRoot = Convert.ToHexStringLower(hashes[^1]),
            Path = [.. hashes.Take(path.Count).Select(Convert.ToHexStringLower)],
        });
    }

    private static async Task<IResult> SiteAsync(string id, Caller caller, LedgerQuery ledger, CancellationToken cancel) =>
        await ledger.SiteAsync(caller.Organisation, id, cancel) is { } view ? Answers.Json(view) : Problems.Result(Problems.NotFound("site", id));

    private static async Task<IResult> LeavesAsync(
        string id, Caller caller, LedgerQuery ledger, CancellationToken cancel, string? cursor = null, int? limit = null)
    {
        if (!Paging.TryRead(cursor, limit, out var page, out var problem)) return Problems.Result(problem!);
        var after = long.TryParse(page.After, NumberStyles.None, CultureInfo.InvariantCulture, out var index) ? index : -1;
        return Paging.ByKey(await ledger.LeavesOfSiteAsync(caller.Organisation, id, after, page.Limit + 1, cancel), page, leaf => Text(leaf.Index));
    }

    private static IResult Show(CheckpointView? checkpoint) => checkpoint is null ? Problems.Result(None()) : Answers.Json(checkpoint);

    private static string Text(long number) => number.ToString(CultureInfo.InvariantCulture);

    /// <summary>There is no checkpoint yet.</summary>
    public static Problem None() => new()
    {
        Type = ProblemTypes.NotFound,
        Title = "Not found",
        Status = StatusCodes.Status404NotFound,
        Detail = "The ledger of your organisation has no checkpoint yet.",
        Remedy = "Hand in a fact, then ask with POST /v1/ledger/checkpoint. Where facts are there already, the service has no key to sign with: tell whoever runs it.",
    };

    /// <summary>There is no checkpoint of the size asked for.</summary>
    public static Problem NoSuchSize() => Problems.Parameter(
        "size", "The ledger has no checkpoint of that size.", "Use the size of one of /v1/ledger/checkpoints, or none for the newest.");

    private static Problem NotIn(string fact) => Problems.NotFound("fact", fact) with
    {
        Detail = $"The ledger has no fact '{(fact.Length > 60 ? fact[..60] : fact)}' in that checkpoint.",
        Remedy = "Check its name, 'source#id', percent-encoded. A fact that was just recorded is in the next checkpoint: ask with POST /v1/ledger/checkpoint.",
    };

    private static Problem Beyond(string name, long most) => Problems.Parameter(
        name, $"Between 0 and {Text(most)} facts can be asked about.", "Use the sizes of two checkpoints, the smaller one first.");
}
