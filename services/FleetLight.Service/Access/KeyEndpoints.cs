using System.Text.Json;
using System.Text.RegularExpressions;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Hosting;
using FleetLight.Service.Intake;
using Marten;

namespace FleetLight.Service.Access;

/// <summary>What somebody asks for who makes a key.</summary>
public sealed record KeyRequest
{
    /// <summary>What people call it, at most 80 characters.</summary>
    [Text(80)]
    public required string Name { get; init; }

    /// <summary>What it allows.</summary>
    public required Scope[] Scopes { get; init; }

    /// <summary>The device that it speaks for, a URI reference of at most 200 characters; needed to post events.</summary>
    [Text(200)]
    public string? Source { get; init; }

    /// <summary>The organisation; the caller's own where absent. Only the host's key may name another.</summary>
    public string? Organisation { get; init; }
}

/// <summary>A key as it is shown. The key itself is shown once, when it is made.</summary>
public sealed record KeyView
{
    /// <summary>Public part of the key.</summary>
    public required string Id { get; init; }

    /// <summary>What people call it.</summary>
    public required string Name { get; init; }

    /// <summary>The organisation.</summary>
    public required string Organisation { get; init; }

    /// <summary>The device that it speaks for.</summary>
    public string? Source { get; init; }

    /// <summary>What it allows.</summary>
    public required Scope[] Scopes { get; init; }

    /// <summary>When it was made.</summary>
    public required DateTimeOffset CreatedAt { get; init; }

    /// <summary>When it was revoked.</summary>
    public DateTimeOffset? RevokedAt { get; init; }

    /// <summary>The key; only in the answer that makes it.</summary>
    public string? Key { get; init; }
}

/// <summary>Keys: make, list, revoke.</summary>
public static partial class KeyEndpoints
{
    /// <summary>Maps them.</summary>
    public static void MapKeys(this IEndpointRouteBuilder routes)
    {
        var group = routes.MapGroup("/v1/keys").WithTags("Keys");
        group.MapPost("", MakeAsync).Needs(Scope.Administer)
            .WithSummary("Make a key")
            .WithDescription("The key is in this answer and nowhere else: only its hash is kept. A key that posts events speaks for one device, its 'source'.")
            .Accepts<KeyRequest>("application/json")
            .Produces<KeyView>(201).ProducesProblems(400, 401, 403);
        group.MapGet("", ListAsync).Needs(Scope.Administer).WithSummary("Keys of the organisation").Produces<IReadOnlyList<KeyView>>().ProducesProblems(401, 403);
        group.MapDelete("/{id}", RevokeAsync).Needs(Scope.Administer)
            .WithSummary("Revoke a key").WithDescription("It is refused at once here and within five seconds on other nodes. What it recorded stays.")
            .Produces(204).ProducesProblems(401, 403, 404);
    }

    private static async Task<IResult> MakeAsync(HttpRequest request, Caller caller, IDocumentStore store, TimeProvider clock, CancellationToken cancel)
    {
        var (body, problem) = await BodyReader.ReadAsync(request, cancel);
        if (problem is not null) return Problems.Result(problem);
        KeyRequest wanted;
        try
        {
            wanted = JsonSerializer.Deserialize<KeyRequest>(body, WireJson.Strict) ?? throw new JsonException();
        }
        catch (JsonException)
        {
            return Problems.Result(Problems.BodyUnreadable("The body is not a JSON object with 'name', 'scopes' and perhaps 'source'."));
        }

        if (Check(wanted, caller) is { } wrong) return Problems.Result(wrong);
        var (record, text) = Make(wanted.Name.Trim(), wanted.Organisation ?? caller.Organisation, wanted.Source, wanted.Scopes, false, clock.GetUtcNow());
        await using var session = store.LightweightSession();
        session.Store(record);
        await session.SaveChangesAsync(cancel);
        return Answers.Json(Show(record) with { Key = text }, StatusCodes.Status201Created);
    }

    /// <summary>A new key: its record, and its text for the holder.</summary>
    public static (KeyRecord Record, string Text) Make(
        string name, string organisation, string? source, IEnumerable<Scope> scopes, bool host, DateTimeOffset now)
    {
        var (id, text) = KeyText.Make();
        return (new KeyRecord
        {
            Id = id,
            Hash = KeyText.Hash(text),
            Name = name,
            Organisation = organisation,
            Source = source,
            Scopes = [.. scopes.Distinct()],
            Host = host,
            CreatedAt = now,
        }, text);
    }

    private static Problem? Check(KeyRequest wanted, Caller caller)
    {
        if (wanted.Name.Trim().Length is 0 or > 80) return Problems.Parameter("name", "A name has 1 to 80 characters.", "Name the person or device that holds the key.");
        if (wanted.Scopes.Length == 0)
        {
            return Problems.Parameter("scopes", "A key without a scope opens nothing.",
                $"Name some of: {string.Join(", ", Enum.GetValues<Scope>().Select(Problems.ScopeName))}.");
        }

        if (wanted.Organisation is { } organisation && organisation != caller.Organisation)
        {
            if (!caller.Host) return Problems.Parameter("organisation", "This key may only make keys for its own organisation.", "Leave the organisation out.");
            if (!OrganisationName().IsMatch(organisation)) return Problems.Parameter("organisation", "An organisation is 1 to 40 of a–z, 0–9 and '-'.", "Choose such a name.");
        }

        if (wanted.Source is { } source && !IsSource(source))
            return Problems.Parameter("source", "A source is a URI reference of 1 to 200 characters.", "Use for instance 'urn:uuid:…' or '/devices/…'.");
        return wanted.Scopes.Contains(Scope.PostEvents) && wanted.Source is null
            ? Problems.Parameter("source", "A key that posts events speaks for one device.", "Name the device's source.")
            : null;
    }

    private static bool IsSource(string text) =>
        text.Length is > 0 and <= 200 && Uri.IsWellFormedUriString(text, UriKind.RelativeOrAbsolute) && !text.StartsWith("alert:", StringComparison.Ordinal)
        && !text.StartsWith(Judgement.JudgingEvents.Prefix, StringComparison.Ordinal);

    private static async Task<IResult> ListAsync(Caller caller, IDocumentStore store, CancellationToken cancel)
    {
        await using var session = store.QuerySession();
        var keys = await session.Query<KeyRecord>().Where(key => key.Organisation == caller.Organisation).OrderBy(key => key.Id).ToListAsync(cancel);
        return Answers.Json(keys.Select(Show).ToArray());
    }

    private static async Task<IResult> RevokeAsync(string id, Caller caller, IDocumentStore store, KeyDirectory directory, TimeProvider clock, CancellationToken cancel)
    {
        await using var session = store.LightweightSession();
        var key = await session.LoadAsync<KeyRecord>(id, cancel);
        if (key is null || (key.Organisation != caller.Organisation && !caller.Host)) return Problems.Result(Problems.NotFound("key", id));
        key.RevokedAt ??= clock.GetUtcNow();
        session.Store(key);
        await session.SaveChangesAsync(cancel);
        directory.Forget();
        return Results.NoContent();
    }

    private static KeyView Show(KeyRecord key) => new()
    {
        Id = key.Id,
        Name = key.Name,
        Organisation = key.Organisation,
        Source = key.Source,
        Scopes = key.Scopes,
        CreatedAt = key.CreatedAt,
        RevokedAt = key.RevokedAt,
    };

    [GeneratedRegex("^[a-z0-9-]{1,40}$")]
    private static partial Regex OrganisationName();
}
