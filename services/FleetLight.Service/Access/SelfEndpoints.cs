using FleetLight.Contracts.Wire;
using FleetLight.Service.Audit;
using FleetLight.Service.Devices;
using FleetLight.Service.Hosting;
using Marten;

namespace FleetLight.Service.Access;

/// <summary>What whoever calls may ask of themselves: who am I, and a new key for me.</summary>
public static class SelfEndpoints
{
    /// <summary>How long the old key is taken beside the new one, at most.</summary>
    public static readonly TimeSpan Both = TimeSpan.FromHours(24);

    /// <summary>Maps them.</summary>
    public static void MapSelf(this IEndpointRouteBuilder routes)
    {
        var group = routes.MapGroup("/v1/keys/self").WithTags("Keys");
        group.MapGet("", WhoAsync).NeedsAnyKey()
            .WithSummary("Who calls").WithDescription("Organisation, device, role, scopes and assigned sites of the calling key or token.")
            .Produces<CallerView>().ProducesProblems(401, 403);
        group.MapPost("/rotate", RotateAsync).NeedsAnyKey()
            .WithSummary("A new key in place of the calling one")
            .WithDescription(
                "It allows the same and speaks for the same device. Keep it before using it: the old key ends when the new one is first used, "
                + "after 24 hours at the latest. Asked for again before that, the one before is taken back.")
            .Produces<RotatedKey>(201).ProducesProblems(401, 403, 409);
    }

    private static async Task<IResult> WhoAsync(Caller caller, IDocumentStore store, CancellationToken cancel)
    {
        await using var session = store.QuerySession(caller.Organisation);
        return Answers.Json(new CallerView
        {
            KeyId = caller.KeyId,
            Name = caller.Name,
            Organisation = caller.Organisation,
            Source = caller.Source,
            Role = caller.Role,
            Scopes = [.. caller.Scopes],
            Sites = caller.Source is { } source ? await DeviceSites.OfAsync(session, source, cancel) : null,
            ValidUntil = caller.Until,
        });
    }

    private static async Task<IResult> RotateAsync(Caller caller, Acting acting, IDocumentStore store, CancellationToken cancel)
    {
        if (caller.IsPerson)
            return Problems.Result(Problems.Conflict("The caller has a token and no key.", "Tokens are renewed where they are issued."));
        (RotatedKey? Made, Problem? Problem) answer = (null, null);
        await KeyDesk.SaveAsync(store, caller.Organisation, async session => answer = await ReplaceAsync(session, caller, acting, cancel), cancel);
        return answer.Made is { } made ? Answers.Json(made, StatusCodes.Status201Created) : Problems.Result(answer.Problem!);
    }

    private static async Task<(RotatedKey?, Problem?)> ReplaceAsync(
        IDocumentSession session, Caller caller, Acting acting, CancellationToken cancel)
    {
        var old = await session.LoadAsync<KeyRecord>(caller.KeyId, cancel);
        if (old is null || !old.InForce(acting.At)) return (null, Problems.KeyMissing(true));
        foreach (var unused in await session.Query<KeyRecord>().Where(key => key.Replaces == old.Id && key.RevokedAt == null).ToListAsync(cancel))
            KeyDesk.Revoke(session, unused, acting.At);
        var (made, text) = KeyDesk.Make(old.Name, old.Organisation, old.Source, old.Role, old.Scopes, acting.At);
        (made.Replaces, made.Host, made.Device, made.Holder) = (old.Id, old.Host, old.Device, KeyHolders.Of(old));
        var latest = acting.At + Both;
        old.ValidUntil = old.ValidUntil is { } sooner && sooner < latest ? sooner : latest;
        session.Store(old);
        KeyFollower.Tell(session, old.Id);
        KeyDesk.Keep(session, made);
        acting.Note(session, AdministrativeAct.KeyRotated, old.Id, ("by", made.Id), ("source", made.Source));
        return (new RotatedKey { Key = text, KeyId = made.Id, OldValidUntil = old.ValidUntil.Value }, null);
    }
}
