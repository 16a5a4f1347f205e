using System.Security.Cryptography;
using System.Text.Json;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Rules;
using FleetLight.Service.Access;
using FleetLight.Service.Audit;
using FleetLight.Service.Hosting;
using FleetLight.Service.Intake;
using FleetLight.Service.Secrets;
using Marten;

namespace FleetLight.Service.Alerts;

/// <summary>What somebody asks for who wants to be told of alerts.</summary>
/// <param name="Url">Where to deliver: http or https, at most 500 characters.</param>
/// <param name="Rules">Rules to tell of; every rule where absent.</param>
public sealed record WebhookRequest([property: Text(500)] string Url, string[]? Rules = null);

/// <summary>A webhook as it is shown. The secret is shown once, when it is made.</summary>
public sealed record WebhookView
{
    /// <summary>The webhook.</summary>
    public required string Id { get; init; }

    /// <summary>Where to deliver.</summary>
    public required string Url { get; init; }

    /// <summary>Rules to tell of; every rule where absent.</summary>
    public string[]? Rules { get; init; }

    /// <summary>When it was made.</summary>
    public required DateTimeOffset CreatedAt { get; init; }

    /// <summary>Secret that signs the deliveries (Standard Webhooks); only in the answer that makes it.</summary>
    public string? Secret { get; init; }
}

/// <summary>Webhooks and their deliveries.</summary>
public static class WebhookEndpoints
{
    /// <summary>Maps them.</summary>
    public static void MapWebhooks(this IEndpointRouteBuilder routes)
    {
        var group = routes.MapGroup("/v1/webhooks").WithTags("Webhooks");
        group.MapPost("", MakeAsync).Needs(Scope.ManageWebhooks)
            .WithSummary("Be told of alerts")
            .WithDescription(
                "Raised and cleared alerts are posted to the address, signed as Standard Webhooks describe (webhook-id, webhook-timestamp, "
                + "webhook-signature). The id stays the same on every attempt: take each id once. What cannot be delivered is parked.")
            .Accepts<WebhookRequest>("application/json")
            .Produces<WebhookView>(201).ProducesProblems(400, 401, 403);
        group.MapGet("", ListAsync).Needs(Scope.ManageWebhooks).WithSummary("Webhooks").Produces<IReadOnlyList<WebhookView>>().ProducesProblems(401, 403);
        group.MapDelete("/{id}", RemoveAsync).Needs(Scope.ManageWebhooks).WithSummary("Stop being told").Produces(204).ProducesProblems(401, 403, 404);
        group.MapPost("/{id}/secret", SecretAsync).Needs(Scope.ManageWebhooks)
            .WithSummary("A new secret for a webhook")
            .WithDescription(
                "The answer has it, once. For 24 hours what is told is signed with both: the header holds two signatures with a space between, the new "
                + "one first. So the receiver changes over whenever it likes in that time.")
            .Produces<ReplacedSecret>().ProducesProblems(401, 403, 404);
        group.MapGet("/{id}/deliveries", DeliveriesAsync).Needs(Scope.ManageWebhooks)
            .WithSummary("Deliveries of a webhook, newest first").WithDescription("'state' is waiting, delivered or parked.")
            .Produces<Page<Delivery>>().ProducesProblems(400, 401, 403);
        group.MapPost("/{id}/deliveries/{delivery}/retry", RetryAsync).Needs(Scope.ManageWebhooks)
            .WithSummary("Deliver a parked one again").Produces<Delivery>().ProducesProblems(401, 403, 404, 409);
    }

    private static async Task<IResult> MakeAsync(
        HttpRequest request, Caller caller, Acting acting, IDocumentStore store, ReceiverRules receivers, SecretSeal seal, CancellationToken cancel)
    {
        var (body, problem) = await BodyReader.ReadAsync(request, cancel);
        if (problem is not null) return Problems.Result(problem);
        WebhookRequest? wanted;
        try
        {
            wanted = JsonSerializer.Deserialize<WebhookRequest>(body, WireJson.Strict);
        }
        catch (JsonException)
        {
            return Problems.Result(Problems.BodyUnreadable("The body is not a JSON object with a 'url' and perhaps 'rules'."));
        }

        if (await CheckAsync(wanted?.Url, wanted?.Rules, receivers, cancel) is { } wrong) return Problems.Result(wrong);
        var id = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(8));
        var secret = SigningSecret.Make();
        var webhook = new Webhook
        {
            Id = id,
            Url = wanted!.Url,
            Sealed = seal.Seal(secret, caller.Organisation, id),
            Rules = wanted.Rules,
            CreatedAt = acting.At,
        };
        await using var session = store.LightweightSession(caller.Organisation);
        session.Store(webhook);
        acting.Note(session, AdministrativeAct.WebhookMade, webhook.Id, ("url", webhook.Url), ("rules", webhook.Rules is { } rules ? string.Join(' ', rules) : null));
        await session.SaveChangesAsync(cancel);
        return Answers.Json(Show(webhook) with { Secret = secret }, StatusCodes.Status201Created);
    }

    /// <summary>What is wrong with an address and rules that somebody wants to be told at, if anything.</summary>
    internal static async Task<Problem?> CheckAsync(string? address, string?[]? rules, ReceiverRules receivers, CancellationToken cancel)
    {
        if (!Uri.TryCreate(address, UriKind.Absolute, out var url) || url.Scheme is not ("http" or "https") || address.Length > 500)
            return Problems.Parameter("url", "The address is not an absolute http or https address.", "Give the whole address, at most 500 characters.");
        if (url.UserInfo.Length > 0)
        {
            return Problems.Parameter(
                "url", "The address holds a name or a password, which would not be sent.", "Leave it out, and check the signature of what comes.");
        }

        if (!await receivers.MayTellAsync(url, cancel)) return Problems.Parameter("url", ReceiverRules.Refusal, ReceiverRules.Remedy);
        // The members of a list may be null whatever its type says.
        return (from rule in rules ?? []
                where !RuleBook.All.Any(known => known.Id == rule)
                select Problems.Parameter("rules", $"There is no rule '{(rule?.Length > 60 ? rule[..60] : rule)}'.", "GET /v1/rules lists the rules."))
            .FirstOrDefault();
    }

    private static async Task<IResult> SecretAsync(string id, Caller caller, Acting acting, IDocumentStore store, SecretSeal seal, CancellationToken cancel)
    {
        await using var session = store.LightweightSession(caller.Organisation);
        if (await session.LoadAsync<Webhook>(id, cancel) is not { } webhook) return Problems.Result(Problems.NotFound("webhook", id));
        var secret = SigningSecret.Make();
        // So that what a node of an earlier version made signs on beside the new one.
        webhook.SealAgain(seal, caller.Organisation);
        webhook.Secrets = webhook.Secrets.Replace(secret, seal, caller.Organisation, id, acting.At);
        session.Store(webhook);
        acting.Note(session, AdministrativeAct.WebhookSecretReplaced, id, ("url", webhook.Url));
        await session.SaveChangesAsync(cancel);
        return Answers.Json(new ReplacedSecret(secret, webhook.BeforeUntil!.Value));
    }

    private static async Task<IResult> ListAsync(Caller caller, IDocumentStore store, CancellationToken cancel)
    {
        await using var session = store.QuerySession(caller.Organisation);
        var webhooks = await session.Query<Webhook>().OrderBy(webhook => webhook.Id).ToListAsync(cancel);
        return Answers.Json(webhooks.Select(Show).ToArray());
    }

    private static async Task<IResult> RemoveAsync(
        string id, Caller caller, Acting acting, IDocumentStore store, SealStanding standing, CancellationToken cancel)
    {
        await using var session = store.LightweightSession(caller.Organisation);
        if (await session.LoadAsync<Webhook>(id, cancel) is not { } webhook) return Problems.Result(Problems.NotFound("webhook", id));
        session.Delete<Webhook>(id);
        acting.Note(session, AdministrativeAct.WebhookRemoved, id, ("url", webhook.Url));
        await session.SaveChangesAsync(cancel);
        standing.Forget(id);
        return Results.NoContent();
    }

    private static async Task<IResult> DeliveriesAsync(
        string id, Caller caller, IDocumentStore store, CancellationToken cancel, string? state = null, string? cursor = null, int? limit = null)
    {
        if (!Query.TryEnum<DeliveryState>(state, "state", out var wanted, out var problem) || !Paging.TryRead(cursor, limit, out var page, out problem))
            return Problems.Result(problem!);
        await using var session = store.QuerySession(caller.Organisation);
        var query = session.Query<Delivery>().Where(delivery => delivery.WebhookId == id);
        if (wanted is { } w) query = query.Where(delivery => delivery.State == w);
        var found = await query.OrderByDescending(delivery => delivery.CreatedAt).ThenBy(delivery => delivery.Id)
            .Skip(page.Offset).Take(page.Limit + 1).ToListAsync(cancel);
        return Paging.ByOffset(found, page);
    }

    private static async Task<IResult> RetryAsync(
        string id, string delivery, Caller caller, Acting acting, IDocumentStore store, DeliverySignal signal, CancellationToken cancel)
    {
        await using var session = store.LightweightSession(caller.Organisation);
        var parked = await session.LoadAsync<Delivery>(delivery, cancel);
        if (parked is null || parked.WebhookId != id) return Problems.Result(Problems.NotFound("delivery", delivery));
        if (parked.State != DeliveryState.Parked)
            return Problems.Result(Problems.Conflict("The delivery is not parked.", "Only a parked delivery is tried again by hand."));
        (parked.State, parked.DueAt, parked.Attempts) = (DeliveryState.Waiting, acting.At, 0);
        session.Store(parked);
        acting.Note(session, AdministrativeAct.DeliveryRetried, delivery, ("webhook", id));
        await session.SaveChangesAsync(cancel);
        signal.Set();
        return Answers.Json(parked);
    }

    private static WebhookView Show(Webhook webhook) =>
        new() { Id = webhook.Id, Url = webhook.Url, Rules = webhook.Rules, CreatedAt = webhook.CreatedAt };
}
