using System.Diagnostics;
using System.Globalization;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Access;
using FleetLight.Service.Hosting;
using FleetLight.Service.Limits;
using Microsoft.Net.Http.Headers;

namespace FleetLight.Service.Intake;

/// <summary>The sync endpoint and the receipts.</summary>
public static class IntakeEndpoints
{
    /// <summary>Maps them.</summary>
    public static void MapIntake(this IEndpointRouteBuilder routes)
    {
        var group = routes.MapGroup("/v1").WithTags("Intake");
        group.MapPost("/events", PostAsync).Needs(Scope.PostEvents).Limited(CallKind.Intake)
            .WithSummary("Hand in facts")
            .WithDescription(
                "One CloudEvents 1.0 event or a batch of at most 1,000 (2 MiB). Each is recorded, known already, or refused with a "
                + "problem and set aside to be mended; a refused one never sinks the others. What is recorded has reached the disk "
                + "before the answer. Send until every running number has a receipt; sending twice is harmless. The header "
                + "Device-Clock (RFC 3339) says what the device's clock shows, so that a wrong clock can be allowed for.")
            .Accepts<object>(Envelope.BatchMediaType, Envelope.SingleMediaType)
            .Produces<BatchReceipt>()
            .ProducesProblems(400, 401, 403, 413, 415, 503);
        group.MapGet("/devices/self/receipts", ReceiptAsync).Needs(Scope.PostEvents)
            .WithSummary("What is in hand of this device")
            .WithDescription("Through which running number the calling device is complete, and which numbers below the highest are missing.")
            .Produces<Receipt>()
            .ProducesProblems(401, 403, 409, 503);
    }

    private static async Task<IResult> PostAsync(
        HttpRequest request, Caller caller, DeviceDesk desk, IntakeTelling telling, IntakeRetry retry, CancellationToken cancel)
    {
        if (caller.Source is not { } source) return Problems.Result(NoDevice(caller));
        if (MediaTypeHeaderValue.TryParse(request.ContentType, out var type) is false || IsBatch(type.MediaType.Value) is not { } batch)
            return Problems.Result(Problems.ContentTypeUnknown(request.ContentType, Remedy));
        if (!TryClock(request.Headers[Envelope.DeviceClockHeader], out var clock))
        {
            return Problems.Result(Problems.Parameter(Envelope.DeviceClockHeader, "The device's clock cannot be read.",
                "Send RFC 3339, for instance 2026-05-04T07:30:00Z, or leave the header out. Nothing of this request was recorded."));
        }

        var (body, sizeProblem) = await BodyReader.ReadAsync(request, cancel);
        if (sizeProblem is not null) return Problems.Result(sizeProblem);
        var (events, problem) = BatchReader.Read(body, batch, source);
        if (problem is not null) return Problems.Result(problem);

        var began = Stopwatch.GetTimestamp();
        var receipt = await retry.RunAsync(token => desk.HandInAsync(new HandIn(caller.Organisation, source, events, clock), token), cancel);
        telling.HandedIn(caller.Organisation, source, receipt, Stopwatch.GetElapsedTime(began));
        return Answers.Json(receipt);
    }

    private static async Task<IResult> ReceiptAsync(Caller caller, DeviceDesk desk, CancellationToken cancel) =>
        caller.Source is { } source
            ? Answers.Json(await desk.ReceiptAsync(caller.Organisation, source, cancel))
            : Problems.Result(NoDevice(caller));

    private static bool? IsBatch(string? mediaType) => mediaType?.ToLowerInvariant() switch
    {
        Envelope.BatchMediaType => true,
        Envelope.SingleMediaType => false,
        _ => null,
    };

    private static bool TryClock(string? header, out DateTimeOffset? clock)
    {
        clock = null;
        if (string.IsNullOrEmpty(header)) return true;
        if (!LeapSecond.TryRead(header, out var shown)
            && !DateTimeOffset.TryParse(header, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out shown))
            return false;
        clock = shown;
        return true;
    }

    private static readonly string Remedy = $"Send one event as {Envelope.SingleMediaType} or several as {Envelope.BatchMediaType}.";

    private static Problem NoDevice(Caller caller) => Problems.Conflict(
        "The key speaks for no device.",
        caller.Role == Role.Office
            ? "Ask for a new key in its place (POST /v1/keys/self/rotate): an office's key now gets a source of its own."
            : "Use the key that was made for the device, with its source.");
}
