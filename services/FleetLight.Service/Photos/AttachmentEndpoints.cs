using System.Security.Cryptography;
using System.Text.RegularExpressions;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Photos;
using FleetLight.Service.Access;
using FleetLight.Service.Hosting;
using FleetLight.Service.Intake;
using FleetLight.Service.Limits;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.AspNetCore.Server.Kestrel.Core;
using Microsoft.AspNetCore.Server.Kestrel.Core.Features;
using Microsoft.Net.Http.Headers;

namespace FleetLight.Service.Photos;

/// <summary>The bytes of pictures, each by the digest that a fact names.</summary>
public static partial class AttachmentEndpoints
{
    /// <summary>Where they are.</summary>
    public const string Path = "/v1/attachments";

    // Slower than this, a picture would hold its place for longer than is fair to the others.
    private static readonly MinDataRate Slowest = new(bytesPerSecond: 1024, gracePeriod: TimeSpan.FromSeconds(20));

    /// <summary>Maps them.</summary>
    public static void MapAttachments(this IEndpointRouteBuilder routes)
    {
        var group = routes.MapGroup(Path + "/{sha256}").WithTags("Photos");
        group.MapPut("", PutAsync).Needs(Scope.PostEvents).Limited(CallKind.Intake)
            .WithSummary("Hand in the bytes of a picture")
            .WithDescription(
                "The body is the picture itself, in the media type that Content-Type states; the path names the SHA-256 of its bytes. Both are "
                + "checked. What is kept has reached the disk before the answer, 201; the same again is harmless and answered 200. A picture that "
                + "is refused sinks nothing: the fact of the photo stays recorded. Nothing is taken out of the picture: where its EXIF data hold "
                + "a position, whoever may see the picture may see that.")
            .Accepts<byte[]>(Pictures.MediaTypes[0], [.. Pictures.MediaTypes.Skip(1)])
            .Produces<AttachmentView>().Produces<AttachmentView>(201)
            .ProducesProblems(400, 401, 403, 409, 413, 415, 429, 503)
            .WithRequestTimeout(RequestLimits.Upload);
        group.MapGet("", GetAsync).Needs(Scope.ReadAsBuilt)
            .WithSummary("The bytes of a picture")
            .WithDescription(
                "In the media type in which they came. The bytes of a digest never change, so a reader may keep them. HEAD answers the same without "
                + "the bytes: so a device learns whether they are in hand.")
            .Produces<byte[]>(200, Pictures.MediaTypes[0], [.. Pictures.MediaTypes.Skip(1)]).Produces(304)
            .ProducesProblems(401, 403, 404);
        // What HEAD is follows from GET (RFC 9110, 9.3.2), so it is not described by itself.
        group.MapMethods("", [HttpMethods.Head], GetAsync).Needs(Scope.ReadAsBuilt).ExcludeFromDescription();
    }

    private static async Task<IResult> PutAsync(
        string sha256, HttpRequest request, Caller caller, AttachmentDesk desk, AttachmentOptions options, UploadGate gate, CancellationToken cancel)
    {
        if (caller.Source is not { } source) return Problems.Result(NoDevice());
        if (!Digest().IsMatch(sha256)) return Problems.Result(NoDigest());
        if (!MediaTypeHeaderValue.TryParse(request.ContentType, out var type) || !Pictures.MediaTypes.Contains(type.MediaType.Value, StringComparer.OrdinalIgnoreCase))
            return Problems.Result(Problems.ContentTypeUnknown(request.ContentType, $"Send one of {string.Join(", ", Pictures.MediaTypes)}."));
        if (request.ContentLength > options.MostBytesEach) return Problems.Result(TooLarge(options));
        var room = await TimeLimit.RunAsync(TimeLimit.Answer, async token => await desk.FindAsync(caller.Organisation, sha256, withBody: false, token) is null
            ? await desk.RoomAsync(caller.Organisation, request.ContentLength ?? 0, token)
            : null, cancel);
        if (room is not null) return Problems.Result(room);
        using var place = gate.Enter(caller.KeyId);
        if (place is null) return Busy(request.HttpContext);

        var (body, problem) = await ReadAsync(request, options, cancel);
        if (problem is not null) return Problems.Result(problem);
        if (Convert.ToHexStringLower(SHA256.HashData(body)) != sha256) return Problems.Result(Differs());
        if (!string.Equals(Pictures.MediaTypeOf(body), type.MediaType.Value, StringComparison.OrdinalIgnoreCase))
            return Problems.Result(Unreadable(type.MediaType.Value!));
        var (view, isNew, full) = await TimeLimit.RunAsync(
            TimeLimit.Answer, token => desk.KeepAsync(caller.Organisation, source, sha256, Pictures.MediaTypeOf(body)!, body, token), cancel);
        return full is null ? Answers.Json(view, isNew ? StatusCodes.Status201Created : StatusCodes.Status200OK) : Problems.Result(full);
    }

    private static async Task<IResult> GetAsync(string sha256, HttpRequest request, Caller caller, AttachmentDesk desk, CancellationToken cancel)
    {
        var isHead = HttpMethods.IsHead(request.Method);
        return await desk.FindAsync(caller.Organisation, sha256, withBody: !isHead, cancel) is { } found
            ? new PictureResult(found)
            : Problems.Result(Problems.NotFound("attachment", sha256));
    }

    private static async Task<(byte[] Body, Problem? Problem)> ReadAsync(HttpRequest request, AttachmentOptions options, CancellationToken cancel)
    {
        var features = request.HttpContext.Features;
        if (features.Get<IHttpMaxRequestBodySizeFeature>() is { IsReadOnly: false } size) size.MaxRequestBodySize = options.MostBytesEach + 1L;
        if (features.Get<IHttpMinRequestBodyDataRateFeature>() is { } rate) rate.MinDataRate = Slowest;
        var (body, problem) = await BodyReader.ReadAsync(request, options.MostBytesEach, () => TooLarge(options), cancel);
        return problem?.Type == ProblemTypes.BodyUnreadable
            ? (body, problem with { Remedy = "Send the picture again, whole. Nothing of this request was kept." })
            : (body, problem);
    }

    private static Problem NoDevice() => Problems.Conflict("The key speaks for no device.", "Use the key that was made for the device that took the photo.");

    private static Problem NoDigest() => Problems.Parameter(
        "sha256", "The path names no SHA-256.", "Give the SHA-256 of the picture's bytes: 64 hexadecimal digits, a to f in lower case.");

    private static Problem TooLarge(AttachmentOptions options) => Problems.RequestTooLarge(options.MostBytesEach) with
    {
        Remedy = "Make the picture smaller, and record the photo again with the digest of the smaller one. Nothing of this request was kept.",
    };

    private static Problem Differs() => new()
    {
        Type = ProblemTypes.DigestDiffers,
        Title = "The bytes are not those that were named",
        Status = StatusCodes.Status400BadRequest,
        Field = "sha256",
        Detail = "The SHA-256 of the bytes that came is not the one in the path.",
        Remedy = "Send the picture again, as it was when its fact was recorded. Nothing of this request was kept.",
    };

    private static Problem Unreadable(string mediaType) => new()
    {
        Type = ProblemTypes.PictureUnreadable,
        Title = "The bytes are no such picture",
        Status = StatusCodes.Status400BadRequest,
        Field = "Content-Type",
        Detail = $"The bytes do not begin as those of a picture of the type {mediaType} do.",
        Remedy = "State the type that the picture has. Nothing of this request was kept.",
    };

    private static IResult Busy(HttpContext context)
    {
        context.Response.Headers.RetryAfter = "10";
        return Problems.Result(Problems.TooManyRequests() with { Detail = "As many pictures as may come in at once do so already. Nothing of this one was kept." });
    }

    [GeneratedRegex(PictureLimits.DigestPattern)]
    private static partial Regex Digest();
}
