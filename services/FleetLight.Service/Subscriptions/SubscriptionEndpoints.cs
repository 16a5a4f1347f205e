using System.Security.Cryptography;
using System.Text.Json;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Access;
using FleetLight.Service.Alerts;
using FleetLight.Service.Audit;
using FleetLight.Service.Hosting;
using FleetLight.Service.Intake;
using FleetLight.Service.Secrets;
using Marten;

namespace FleetLight.Service.Subscriptions;

/// <summary>What every endpoint of subscriptions needs.</summary>
/// <param name="Store">The store.</param>
/// <param name="Rows">The rows.</param>
/// <param name="Reader">What is told.</param>
/// <param name="Seal">Seals what signs.</param>
/// <param name="Receivers">Where may be told.</param>
/// <param name="Signal">Wakes the worker.</param>
public sealed record SubscriptionDesk(
    IDocumentStore Store, SubscriptionRows Rows, ToldReader Reader, SecretSeal Seal, ReceiverRules Receivers, SubscriptionSignal Signal);

/// <summary>Subscriptions: facts, alerts and changes told to an address.</summary>
public static class SubscriptionEndpoints
{
    private const int Most = 100;

    /// <summary>Maps them.</summary>
    public static void MapSubscriptions(this IEndpointRouteBuilder routes)
    {
        var group = routes.MapGroup("/v1/subscriptions").WithTags("Subscriptions");
        group.MapPost("", MakeAsync).Needs(Scope.Subscribe)
            .WithSummary("Be told of facts, alerts and changes")
            .WithDescription(
                "Each is posted by itself as a CloudEvents 1.0 event (application/cloudevents+json), in order, signed as Standard Webhooks describe. "
                + "'source' and 'id' of the event name it, 'webhook-id' is the same on every attempt and every replay: take each once. What is not taken "
                + "is tried again for about two days while what comes after it waits, then parked. The key has to read status too. A subscription of a key "
                + "that may not 'manage-webhooks' is seen by that key only, and ends with it; others belong to the organisation.")
            .Accepts<SubscriptionRequest>("application/json")
            .Produces<SubscriptionView>(201).ProducesProblems(400, 401, 403, 409);
        group.MapGet("", ListAsync).Needs(Scope.Subscribe)
            .WithSummary("Subscriptions").WithDescription("Those of the calling key; with 'manage-webhooks', all of the organisation.")
            .Produces<IReadOnlyList<SubscriptionView>>().ProducesProblems(401, 403);
        group.MapGet("/{id}", ShowAsync).Needs(Scope.Subscribe).WithSummary("A subscription").Produces<SubscriptionView>().ProducesProblems(401, 403, 404);
        group.MapDelete("/{id}", RemoveAsync).Needs(Scope.Subscribe)
            .WithSummary("Be told no longer").Produces(204).ProducesProblems(401, 403, 404);
        group.MapPost("/{id}/secret", SecretAsync).Needs(Scope.Subscribe)
            .WithSummary("A new secret for a subscription")
            .WithDescription("The answer has it, once. For 24 hours what is told is signed with both, with a space between the two signatures, the new one first.")
            .Produces<ReplacedSecret>().ProducesProblems(401, 403, 404);
        group.MapPost("/{id}/move", MoveAsync).Needs(Scope.Subscribe)
            .WithSummary("Be told again, or further on, from another place")
            .WithDescription("What was told before comes again under the same ids. What stands parked stays there.")
            .Accepts<MoveRequest>("application/json")
            .Produces<SubscriptionView>().ProducesProblems(400, 401, 403, 404);
        group.MapGet("/{id}/parked", ParkedAsync).Needs(Scope.Subscribe)
            .WithSummary("What a subscription could not be told, oldest first")
            .Produces<Page<ParkedView>>().ProducesProblems(400, 401, 403, 404);
        group.MapPost("/{id}/parked/{message}/retry", RetryAsync).Needs(Scope.Subscribe)
            .WithSummary("Tell a parked one again").WithDescription("It is tried once more, beside what is told in order; if it fails it is parked again.")
            .Produces(204).ProducesProblems(401, 403, 404);
        group.MapDelete("/{id}/parked/{message}", DropAsync).Needs(Scope.Subscribe)
            .WithSummary("Throw a parked one away").Produces(204).ProducesProblems(401, 403, 404);
    }

    private static async Task<IResult> MakeAsync(HttpRequest request, Caller caller, Acting acting, [AsParameters] SubscriptionDesk desk, CancellationToken cancel)
    {
        var (wanted, problem) = await BodyAsync<SubscriptionRequest>(request, "The body is not a JSON object with a 'url' and perhaps 'filter' and 'after'.", cancel);
        if (problem is not null) return Problems.Result(problem);
        var filter = wanted!.Filter ?? new StreamFilter();
        problem = await WebhookEndpoints.CheckAsync(wanted.Url, null, desk.Receivers, cancel) ?? filter.Check();
        if (problem is not null) return Problems.Result(problem);
        if (await PlaceAsync(desk, caller, wanted.After, cancel) is not { } place) return Problems.Result(NoPlace());
        if (!caller.May(Scope.ReadStatus)) return Problems.Result(Problems.ScopeMissing(Scope.ReadStatus));
        var isOrganisations = caller.May(Scope.ManageWebhooks);
        // A person's sign-in ends in an hour, and nobody tells when they leave.
        if (!isOrganisations && caller.Holder is null) return Problems.Result(Problems.ScopeMissing(Scope.ManageWebhooks));
        if ((await desk.Rows.ListAsync(caller.Organisation, cancel)).Count >= Most)
            return Problems.Result(Problems.Conflict($"The organisation has {Most} subscriptions, which is the most.", "Remove one that nobody needs."));
        var id = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(8));
        var secret = SigningSecret.Make();
        var made = new Subscription
        {
            Organisation = caller.Organisation,
            Id = id,
            Holder = isOrganisations ? null : caller.Holder,
            Url = wanted.Url,
            Filter = filter,
            Secrets = new SealedSecrets(desk.Seal.Seal(secret, caller.Organisation, id)),
            CreatedAt = acting.At,
            Place = place,
            DueAt = acting.At,
        };
        await ChangeAsync(desk, caller, acting, AdministrativeAct.SubscriptionMade, made, null, session => SubscriptionRows.Add(session, made), cancel);
        return Answers.Json(SubscriptionViews.Of(made) with { Secret = secret }, StatusCodes.Status201Created);
    }

    private static async Task<IResult> ListAsync(Caller caller, SubscriptionRows rows, CancellationToken cancel)
    {
        var all = await rows.ListAsync(caller.Organisation, cancel);
        return Answers.Json(all.Where(each => Sees(caller, each)).Select(SubscriptionViews.Of).ToArray());
    }

    private static async Task<IResult> ShowAsync(string id, Caller caller, SubscriptionRows rows, CancellationToken cancel) =>
        await FindAsync(rows, caller, id, cancel) is { } found ? Answers.Json(SubscriptionViews.Of(found)) : Problems.Result(Problems.NotFound("subscription", id));

    private static async Task<IResult> RemoveAsync(
        string id, Caller caller, Acting acting, [AsParameters] SubscriptionDesk desk, SealStanding standing, CancellationToken cancel)
    {
        if (await FindAsync(desk.Rows, caller, id, cancel) is not { } found) return Problems.Result(Problems.NotFound("subscription", id));
        await ChangeAsync(desk, caller, acting, AdministrativeAct.SubscriptionRemoved, found, null,
            session => SubscriptionRows.Remove(session, caller.Organisation, id), cancel);
        standing.Forget(id);
        return Results.NoContent();
    }

    private static async Task<IResult> SecretAsync(string id, Caller caller, Acting acting, [AsParameters] SubscriptionDesk desk, CancellationToken cancel)
    {
        if (await FindAsync(desk.Rows, caller, id, cancel) is not { } found) return Problems.Result(Problems.NotFound("subscription", id));
        var secret = SigningSecret.Make();
        var secrets = found.Secrets.Replace(secret, desk.Seal, caller.Organisation, id, acting.At);
        await ChangeAsync(desk, caller, acting, AdministrativeAct.SubscriptionSecretReplaced, found, null,
            session => SubscriptionRows.Sign(session, caller.Organisation, id, secrets), cancel);
        return Answers.Json(new ReplacedSecret(secret, secrets.BeforeUntil!.Value));
    }

    private static async Task<IResult> MoveAsync(
        string id, HttpRequest request, Caller caller, Acting acting, [AsParameters] SubscriptionDesk desk, CancellationToken cancel)
    {
        var (wanted, problem) = await BodyAsync<MoveRequest>(request, "The body is not a JSON object with 'after'.", cancel);
        if (problem is not null) return Problems.Result(problem);
        if (await FindAsync(desk.Rows, caller, id, cancel) is not { } found) return Problems.Result(Problems.NotFound("subscription", id));
        if (string.IsNullOrEmpty(wanted!.After) || await PlaceAsync(desk, caller, wanted.After, cancel) is not { } place) return Problems.Result(NoPlace());
        await ChangeAsync(desk, caller, acting, AdministrativeAct.SubscriptionMoved, found, place.ToString(),
            session => SubscriptionRows.Move(session, caller.Organisation, id, place, acting.At), cancel);
        return Answers.Json(SubscriptionViews.Of(found with { Place = place, Attempts = 0, LastError = null }));
    }

    private static async Task<IResult> ParkedAsync(
        string id, Caller caller, SubscriptionRows rows, CancellationToken cancel, string? cursor = null, int? limit = null)
    {
        if (!Paging.TryRead(cursor, limit, out var page, out var problem)) return Problems.Result(problem!);
        if (await FindAsync(rows, caller, id, cancel) is null) return Problems.Result(Problems.NotFound("subscription", id));
        var found = await rows.ParkedAsync(caller.Organisation, id, page.Offset, page.Limit + 1, cancel);
        return Paging.ByOffset([.. found.Select(SubscriptionViews.Of)], page);
    }

    private static Task<IResult> RetryAsync(
        string id, string message, Caller caller, Acting acting, [AsParameters] SubscriptionDesk desk, CancellationToken cancel) =>
        OfParkedAsync(id, message, caller, acting, desk, AdministrativeAct.ParkedRetried,
            session => SubscriptionRows.Retry(session, caller.Organisation, id, message, acting.At), cancel);

    private static Task<IResult> DropAsync(
        string id, string message, Caller caller, Acting acting, [AsParameters] SubscriptionDesk desk, CancellationToken cancel) =>
        OfParkedAsync(id, message, caller, acting, desk, AdministrativeAct.ParkedDropped,
            session => SubscriptionRows.Drop(session, caller.Organisation, id, message), cancel);

    private static async Task<IResult> OfParkedAsync(
        string id, string message, Caller caller, Acting acting, SubscriptionDesk desk, AdministrativeAct act, Action<IDocumentSession> change, CancellationToken cancel)
    {
        if (await FindAsync(desk.Rows, caller, id, cancel) is not { } found) return Problems.Result(Problems.NotFound("subscription", id));
        if (!await desk.Rows.IsParkedAsync(caller.Organisation, id, message, cancel)) return Problems.Result(Problems.NotFound("parked message", message));
        await ChangeAsync(desk, caller, acting, act, found, message, change, cancel);
        return Results.NoContent();
    }

    private static bool Sees(Caller caller, Subscription subscription) =>
        caller.May(Scope.ManageWebhooks) || (subscription.Holder is not null && subscription.Holder == caller.Holder);

    private static async Task<Subscription?> FindAsync(SubscriptionRows rows, Caller caller, string id, CancellationToken cancel) =>
        await rows.FindAsync(caller.Organisation, id, cancel) is { } found && Sees(caller, found) ? found : null;

    // Of an act on a parked message the message is told, of a move the place, in the same column of the audit.
    private static async Task ChangeAsync(
        SubscriptionDesk desk, Caller caller, Acting acting, AdministrativeAct act, Subscription subscription, string? what, Action<IDocumentSession> change,
        CancellationToken cancel)
    {
        await using var session = desk.Store.LightweightSession(caller.Organisation);
        change(session);
        acting.Note(session, act, subscription.Id, ("url", subscription.Url), ("what", what));
        await session.SaveChangesAsync(cancel);
        desk.Signal.Set();
    }

    private static async Task<StreamPlace?> PlaceAsync(SubscriptionDesk desk, Caller caller, string? after, CancellationToken cancel) => after switch
    {
        null or "" or "now" => await desk.Reader.EndAsync(caller.Organisation, cancel),
        "start" => StreamPlace.Start,
        _ => StreamPlace.TryParse(after, out var place) ? place : null,
    };

    private static Problem NoPlace() => Problems.Parameter("after", "The cursor is none that was given out here.", "Use the cursor of something that was told, 'start' or 'now'.");

    private static async Task<(T? Body, Problem? Problem)> BodyAsync<T>(HttpRequest request, string otherwise, CancellationToken cancel) where T : class
    {
        var (body, problem) = await BodyReader.ReadAsync(request, cancel);
        if (problem is not null) return (null, problem);
        try
        {
            return JsonSerializer.Deserialize<T>(body, WireJson.Strict) is { } read ? (read, null) : (null, Problems.BodyUnreadable(otherwise));
        }
        catch (JsonException)
        {
            return (null, Problems.BodyUnreadable(otherwise));
        }
    }
}
