using System.Security.Cryptography;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Audit;
using FleetLight.Service.Devices;
using FleetLight.Service.Hosting;
using FleetLight.Service.Limits;
using JasperFx;
using Marten;
using QRCoder;

namespace FleetLight.Service.Access;

/// <summary>Enrolments: the office issues a one-time code, a device exchanges it for its key.</summary>
public static class EnrolmentEndpoints
{
    private const int UsualHours = 24;

    /// <summary>Maps them.</summary>
    public static void MapEnrolments(this IEndpointRouteBuilder routes)
    {
        var group = routes.MapGroup("/v1/enrolments").WithTags("Enrolments");
        group.MapPost("", MakeAsync).Needs(Scope.EnrolDevices)
            .WithSummary("Issue a one-time code")
            .WithDescription(
                "The code is in this answer and nowhere else, as text to type and as a picture to scan: only its hash is kept. It is exchanged "
                + "once, within its hours, for a key with the scopes of its role. Nobody gives a role that allows more than they may themselves.")
            .Accepts<EnrolmentRequest>("application/json")
            .Produces<EnrolmentView>(201).ProducesProblems(400, 401, 403);
        group.MapGet("", ListAsync).Needs(Scope.EnrolDevices)
            .WithSummary("Enrolments, newest first").WithDescription("Without their codes.")
            .Produces<Page<EnrolmentView>>().ProducesProblems(400, 401, 403);
        group.MapDelete("/{id}", WithdrawAsync).Needs(Scope.EnrolDevices)
            .WithSummary("Take a one-time code back").Produces(204).ProducesProblems(401, 403, 404, 409);
        group.MapPost("/exchange", ExchangeAsync).Limited(CallKind.Exchange)
            .WithSummary("Exchange a one-time code for a key")
            .WithDescription(
                "Needs no key. A code works once; one that is wrong, used, expired or taken back gets one and the same answer. Keep the key at "
                + "once: it is in this answer and nowhere else. Guessing is limited.")
            .Accepts<ExchangeRequest>("application/json")
            .Produces<EnrolledKey>(201).ProducesProblems(400, 403, 429);
    }

    private static async Task<IResult> MakeAsync(
        HttpRequest request, Caller caller, Acting acting, IDocumentStore store, IConfiguration configuration, CancellationToken cancel)
    {
        var (wanted, problem) = await RequestBody.ReadAsync<EnrolmentRequest>(
            request, "a JSON object with 'name', 'role' and perhaps 'source', 'sites' and 'hoursValid'", cancel);
        if (wanted is null) return Problems.Result(problem!);
        if (Check(wanted, caller) is { } wrong) return Problems.Result(wrong);
        var code = EnrolmentCode.Make();
        var enrolment = new Enrolment
        {
            Id = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(8)),
            Hash = KeyText.Hash(EnrolmentCode.Normal(code)!),
            Organisation = caller.Organisation,
            Name = wanted.Name.Trim(),
            Role = wanted.Role,
            // An office's key gets its own source when it is made.
            Source = wanted.Role == Role.Office || !Roles.ScopesOf(wanted.Role).Contains(Scope.PostEvents) ? wanted.Source : wanted.Source ?? $"urn:uuid:{Guid.NewGuid()}",
            Sites = wanted.Sites?.Distinct(StringComparer.Ordinal).ToArray(),
            CreatedAt = acting.At,
            ExpiresAt = acting.At.AddHours(wanted.HoursValid ?? UsualHours),
        };
        await using var session = store.LightweightSession(caller.Organisation);
        session.Store(enrolment);
        acting.Note(session, AdministrativeAct.EnrolmentMade, enrolment.Id,
            ("name", enrolment.Name), ("role", Query.Word(enrolment.Role)), ("source", enrolment.Source));
        await session.SaveChangesAsync(cancel);
        // Behind '#', so that the code reaches no log of a server in between.
        var address = $"{PublicAddress.Of(request, configuration)}/enrol#{code}";
        var (svg, text) = Pictures(address);
        return Answers.Json(
            Show(enrolment, acting.At) with { Code = code, Address = address, QrSvg = svg, QrText = text }, StatusCodes.Status201Created);
    }

    private static Problem? Check(EnrolmentRequest wanted, Caller caller)
    {
        if (wanted.Name.Trim().Length is 0) return Problems.Parameter("name", "A name has 1 to 80 characters.", "Name the device or the person.");
        var scopes = Roles.ScopesOf(wanted.Role);
        if (!Roles.MayGive(caller.Scopes, scopes))
            return Problems.Parameter("role", "This role allows more than the key that gives it.", "Ask an administrator of your organisation.");
        if (wanted.Source is null) return null;
        if (!scopes.Contains(Scope.PostEvents))
            return Problems.Parameter("source", "This role posts no facts and speaks for no device.", "Leave the source out.");
        return KeyDesk.IsSource(wanted.Source)
            ? null
            : Problems.Parameter("source", "A source is a URI reference of 1 to 200 characters.", "Use for instance 'urn:uuid:…' or '/devices/…'.");
    }

    private static async Task<IResult> ListAsync(
        Caller caller, IDocumentStore store, TimeProvider clock, CancellationToken cancel, string? cursor = null, int? limit = null)
    {
        if (!Paging.TryRead(cursor, limit, out var page, out var problem)) return Problems.Result(problem!);
        var now = clock.GetUtcNow();
        await using var session = store.QuerySession(caller.Organisation);
        var found = await session.Query<Enrolment>().Where(enrolment => enrolment.Organisation == caller.Organisation)
            .OrderByDescending(enrolment => enrolment.CreatedAt).ThenBy(enrolment => enrolment.Id)
            .Skip(page.Offset).Take(page.Limit + 1).ToListAsync(cancel);
        return Paging.ByOffset([.. found.Select(enrolment => Show(enrolment, now))], page);
    }

    private static async Task<IResult> WithdrawAsync(string id, Caller caller, Acting acting, IDocumentStore store, CancellationToken cancel)
    {
        await using var session = store.LightweightSession(caller.Organisation);
        var enrolment = await session.LoadAsync<Enrolment>(id, cancel);
        if (enrolment is null || enrolment.Organisation != caller.Organisation) return Problems.Result(Problems.NotFound("enrolment", id));
        if (enrolment.UsedAt is not null) return Problems.Result(Used());
        if (enrolment.WithdrawnAt is not null) return Results.NoContent();
        enrolment.WithdrawnAt = acting.At;
        session.Store(enrolment);
        acting.Note(session, AdministrativeAct.EnrolmentWithdrawn, id, ("name", enrolment.Name));
        try
        {
            await session.SaveChangesAsync(cancel);
        }
        catch (ConcurrencyException)
        {
            return Problems.Result(Used());
        }

        return Results.NoContent();
    }

    private static Problem Used() => Problems.Conflict("The code was exchanged already.", "Revoke the key that it was exchanged for.");

    private static async Task<IResult> ExchangeAsync(HttpContext context, IDocumentStore store, TimeProvider clock, CancellationToken cancel)
    {
        var (given, problem) = await RequestBody.ReadAsync<ExchangeRequest>(context.Request, "a JSON object with a 'code' and perhaps 'device'", cancel);
        if (given is null) return Problems.Result(problem!);
        if (EnrolmentCode.Normal(given.Code) is not { } code) return Problems.Result(Problems.CodeNotValid());
        var hash = KeyText.Hash(code);
        var now = clock.GetUtcNow();
        Enrolment? enrolment;
        await using (var look = store.QuerySession())
            enrolment = await look.Query<Enrolment>().Where(each => each.Hash == hash).FirstOrDefaultAsync(cancel);
        if (enrolment?.StateAt(now) != EnrolmentState.Open) return Problems.Result(Problems.CodeNotValid());

        await using var session = store.LightweightSession(enrolment.Organisation);
        // Read again with its revision: of two that come at once, one saves.
        enrolment = await session.LoadAsync<Enrolment>(enrolment.Id, cancel);
        if (enrolment?.StateAt(now) != EnrolmentState.Open) return Problems.Result(Problems.CodeNotValid());
        var scopes = Roles.ScopesOf(enrolment.Role);
        var (key, text) = KeyDesk.Make(enrolment.Name, enrolment.Organisation, enrolment.Source, enrolment.Role, scopes, now);
        key.Device = given.Device?.Trim();
        (enrolment.UsedAt, enrolment.KeyId) = (now, key.Id);
        session.Store(enrolment);
        KeyDesk.Keep(session, key);
        if (enrolment is { Source: { } source, Sites: { } sites }) DeviceSites.Assign(session, source, sites);
        Acting.Of(context, new Actor(ActorKind.Code, enrolment.Id, enrolment.Name)).Note(session, AdministrativeAct.EnrolmentUsed, enrolment.Id,
            ("key", key.Id), ("role", Query.Word(enrolment.Role)), ("source", key.Source), ("device", key.Device));
        try
        {
            await session.SaveChangesAsync(cancel);
        }
        catch (ConcurrencyException)
        {
            return Problems.Result(Problems.CodeNotValid());
        }

        return Answers.Json(
            new EnrolledKey
            {
                Key = text,
                KeyId = key.Id,
                Source = key.Source,
                Organisation = key.Organisation,
                Role = enrolment.Role,
                Scopes = scopes,
            }, StatusCodes.Status201Created);
    }

    private static EnrolmentView Show(Enrolment enrolment, DateTimeOffset now) => new()
    {
        Id = enrolment.Id,
        Name = enrolment.Name,
        Role = enrolment.Role,
        Source = enrolment.Source,
        Sites = enrolment.Sites,
        State = enrolment.StateAt(now),
        CreatedAt = enrolment.CreatedAt,
        ExpiresAt = enrolment.ExpiresAt,
        UsedAt = enrolment.UsedAt,
        KeyId = enrolment.KeyId,
        WithdrawnAt = enrolment.WithdrawnAt,
    };

    private static (string Svg, string Text) Pictures(string address)
    {
        using var generator = new QRCodeGenerator();
        using var data = generator.CreateQrCode(address, QRCodeGenerator.ECCLevel.M);
        using var picture = new SvgQRCode(data);
        using var blocks = new AsciiQRCode(data);
        // Light blocks on a dark terminal, with the margin that a scanner wants.
        return (picture.GetGraphic(4), blocks.GetGraphicSmall(drawQuietZones: true));
    }
}
