using System.Text.RegularExpressions;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Audit;
using FleetLight.Service.Hosting;
using Marten;

namespace FleetLight.Service.Access;

/// <summary>Keys: make, list, revoke.</summary>
public static partial class KeyEndpoints
{
    /// <summary>Maps them.</summary>
    public static void MapKeys(this IEndpointRouteBuilder routes)
    {
        var group = routes.MapGroup("/v1/keys").WithTags("Keys");
        group.MapPost("", MakeAsync).Needs(Scope.ManageKeys)
            .WithSummary("Make a key")
            .WithDescription(
                "By 'role' or by 'scopes'. The key is in this answer and nowhere else: only its hash is kept. A key that posts events speaks for "
                + "one device, its 'source'; an office's key gets a source of its own. Nobody gives a key that allows more than their own.")
            .Accepts<KeyRequest>("application/json")
            .Produces<KeyView>(201).ProducesProblems(400, 401, 403);
        group.MapGet("", ListAsync).Needs(Scope.ManageKeys).WithSummary("Keys of the organisation").Produces<IReadOnlyList<KeyView>>().ProducesProblems(401, 403);
        group.MapDelete("/{id}", RevokeAsync).Needs(Scope.ManageKeys)
            .WithSummary("Revoke a key")
            .WithDescription(
                "It is refused at once on every node, and so is a new key that it asked for and that is not in use yet. What it recorded stays.")
            .Produces(204).ProducesProblems(401, 403, 404);
    }

    private static async Task<IResult> MakeAsync(HttpRequest request, Caller caller, Acting acting, IDocumentStore store, CancellationToken cancel)
    {
        var (wanted, problem) = await RequestBody.ReadUncheckedAsync<KeyRequest>(
            request, "a JSON object with 'name', 'scopes' or 'role', and perhaps 'source'", cancel);
        if (wanted is null) return Problems.Result(problem!);
        var scopes = wanted.Role is { } role ? Roles.ScopesOf(role) : wanted.Scopes ?? [];
        if (Check(wanted, scopes, caller) is { } wrong) return Problems.Result(wrong);
        var organisation = wanted.Organisation ?? caller.Organisation;
        var (record, text) = KeyDesk.Make(wanted.Name.Trim(), organisation, wanted.Source, wanted.Role, scopes, acting.At);
        await using var session = store.LightweightSession(organisation);
        KeyDesk.Keep(session, record);
        acting.Note(session, AdministrativeAct.KeyMade, record.Id,
            ("name", record.Name), ("role", record.Role is { } r ? Query.Word(r) : null),
            ("scopes", string.Join(' ', record.Scopes.Select(Problems.ScopeName))), ("source", record.Source));
        await session.SaveChangesAsync(cancel);
        return Answers.Json(Show(record) with { Key = text }, StatusCodes.Status201Created);
    }

    private static Problem? Check(KeyRequest wanted, Scope[] scopes, Caller caller)
    {
        if (wanted.Name.Trim().Length is 0 or > 80) return Problems.Parameter("name", "A name has 1 to 80 characters.", "Name the person or device that holds the key.");
        if (wanted is { Role: not null, Scopes: not null })
            return Problems.Parameter("scopes", "A role says already what the key allows.", "Name either a role or scopes.");
        if (scopes.Length == 0)
        {
            return Problems.Parameter("scopes", "A key without a scope opens nothing.",
                $"Name some of: {string.Join(", ", Enum.GetValues<Scope>().Select(Problems.ScopeName))}.");
        }

        if (!Roles.MayGive(caller.Scopes, scopes))
        {
            return Problems.Parameter(wanted.Role is null ? "scopes" : "role", "The new key would allow more than the one that makes it.",
                "Ask an administrator of your organisation.");
        }

        if (wanted.Organisation is { } organisation && organisation != caller.Organisation)
        {
            if (!caller.Host) return Problems.Parameter("organisation", "This key may only make keys for its own organisation.", "Leave the organisation out.");
            if (!IsOrganisation(organisation)) return Problems.Parameter("organisation", "An organisation is 1 to 40 of a–z, 0–9 and '-'.", "Choose such a name.");
        }

        if (wanted.Source is { } source && !KeyDesk.IsSource(source))
            return Problems.Parameter("source", "A source is a URI reference of 1 to 200 characters.", "Use for instance 'urn:uuid:…' or '/devices/…'.");
        return scopes.Contains(Scope.PostEvents) && wanted is { Source: null, Role: not Role.Office }
            ? Problems.Parameter("source", "A key that posts events speaks for one device.", "Name the device's source.")
            : null;
    }

    /// <summary>Whether an organisation may be called so.</summary>
    public static bool IsOrganisation(string name) => OrganisationName().IsMatch(name);

    private static async Task<IResult> ListAsync(Caller caller, IDocumentStore store, CancellationToken cancel)
    {
        await using var session = store.QuerySession();
        var keys = await session.Query<KeyRecord>().Where(key => key.Organisation == caller.Organisation).OrderBy(key => key.Id).ToListAsync(cancel);
        return Answers.Json(keys.Select(Show).ToArray());
    }

    private static async Task<IResult> RevokeAsync(
        string id, Caller caller, Acting acting, IDocumentStore store, KeyDirectory directory, CancellationToken cancel)
    {
        await using var look = store.QuerySession();
        var found = await look.LoadAsync<KeyRecord>(id, cancel);
        if (found is null || (found.Organisation != caller.Organisation && !caller.Host)) return Problems.Result(Problems.NotFound("key", id));
        await KeyDesk.SaveAsync(store, found.Organisation, async session =>
        {
            if (await session.LoadAsync<KeyRecord>(id, cancel) is not { RevokedAt: null } key) return;
            foreach (var each in (await session.Query<KeyRecord>().Where(other => other.Replaces == id).ToListAsync(cancel)).Append(key))
                KeyDesk.Revoke(session, each, acting.At);
            acting.Note(session, AdministrativeAct.KeyRevoked, id, ("name", key.Name), ("source", key.Source));
        }, cancel);
        directory.Forget(id);
        return Results.NoContent();
    }

    private static KeyView Show(KeyRecord key) => new()
    {
        Id = key.Id,
        Name = key.Name,
        Organisation = key.Organisation,
        Source = key.Source,
        Device = key.Device,
        Role = key.Role,
        Scopes = [.. key.Allows()],
        CreatedAt = key.CreatedAt,
        RevokedAt = key.RevokedAt,
        ValidUntil = key.ValidUntil,
    };

    [GeneratedRegex("^[a-z0-9-]{1,40}$")]
    private static partial Regex OrganisationName();
}
