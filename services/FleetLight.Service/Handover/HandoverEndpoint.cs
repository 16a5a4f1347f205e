using System.Globalization;
using System.Text;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Handover.Html;
using FleetLight.Handover.Pdf;
using FleetLight.Handover.Writing;
using FleetLight.Record.Handover;
using FleetLight.Service.Access;
using FleetLight.Service.Calculations;
using FleetLight.Service.FactLists;
using FleetLight.Service.Hosting;
using FleetLight.Service.Hosting.Describing;
using Microsoft.AspNetCore.Mvc;

namespace FleetLight.Service.Handover;

/// <summary>Forms in which a handover pack is answered.</summary>
public enum HandoverFormat
{
    /// <summary>PDF.</summary>
    Pdf,

    /// <summary>One HTML file that needs no other.</summary>
    Html,

    /// <summary>JSON.</summary>
    Json,

    /// <summary>The list of its facts as text, over which its digest is.</summary>
    Facts,
}

/// <summary>The handover pack of a site.</summary>
public static class HandoverEndpoint
{
    /// <summary>The last part of its path.</summary>
    public const string Path = "/handover";

    private const string PdfMediaType = "application/pdf";
    private const string HtmlMediaType = "text/html";
    private const string TextMediaType = "text/plain";

    /// <summary>Maps it.</summary>
    public static void MapHandover(this IEndpointRouteBuilder routes) =>
        routes.MapGet($"/v1/sites/{{id}}{Path}", GetAsync).Needs(Scope.ReadAsBuilt).WithTags("Sites")
            .WithSummary("The handover pack of a site")
            .WithDescription(
                "For its owner, a first page in plain words; then plan, circuits with what they should read and did, schedules of ducts, cables and boxes with what still "
                + "fits, settings, a plan of maintenance with its days, alerts and open points, cautions, who recorded what, and a SHA-256 over the facts behind it. As PDF "
                + "(the list of facts goes along inside it), as one HTML file without a reference to anything outside, as JSON, or the list of facts alone. Intervals in "
                + "months are common practice, no source. 'asOf' tells of a day of the past, 'knownBy' counts only what was known by then. Units stand in the names of the "
                + $"members. A pack rests on at most {HandoverDesk.MostFacts} facts. Advice, never a certificate.")
            .Produces<HandoverPack>().WithMetadata(new AlsoFiles([PdfMediaType, HtmlMediaType, TextMediaType])).ProducesProblems(400, 401, 403, 404, 409, 429, 503);

    private static async Task<IResult> GetAsync(
        string id, HttpContext context, Caller caller, HandoverDesk desk, FactQuery facts, CalculationGate gate, TimeProvider clock, [AsParameters] Asked asked,
        CancellationToken cancel)
    {
        if (!asked.TryRead(id, clock.GetUtcNow(), out var wanted, out var refused)) return refused!;
        if (await facts.EditionAsync(cancel) is null) return Problems.Result(Problems.ListsNotWhole());
        if (await desk.FactsAsync(caller.Organisation, id, cancel) is not { } recorded)
        {
            return Problems.Result(Problems.Conflict(
                $"The site has more than {HandoverDesk.MostFacts} facts, too many for one pack.",
                "Hand over in parts: record circuits that belong together on a site of their own."));
        }

        var wish = await desk.CompleteAsync(wanted.Wish, caller.Organisation, recorded, cancel);
        using var place = await gate.EnterAsync(caller.Organisation, isHeavy: true, cancel);
        if (place is null)
        {
            context.Response.Headers.RetryAfter = CalculationGate.RetryAfterSeconds;
            return Problems.Result(Problems.TooBusy());
        }

        // To fold, judge and lay out takes a processor for a while: a thread of the pool would keep other requests waiting.
        return await Task.Factory.StartNew(() => Answer(id, recorded, wish, wanted), CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default);
    }

    private static IResult Answer(string id, IReadOnlyList<RecordedFact> recorded, HandoverWish wish, Wanted wanted)
    {
        if (HandoverMaker.Of(recorded, wish) is not { } pack) return Problems.Result(Problems.NotFound("site", id));
        // A name of digits and hyphens only: what people call a site may hold anything.
        var name = string.Create(CultureInfo.InvariantCulture, $"handover-{pack.Day:yyyy-MM-dd}");
        return wanted.Format switch
        {
            HandoverFormat.Json => Answers.Json(pack),
            HandoverFormat.Facts => Answers.File(Encoding.UTF8.GetBytes(FactRoll.Text(pack.Digest.Facts)), TextMediaType, $"{name}-facts.txt"),
            HandoverFormat.Html => Answers.File(Encoding.UTF8.GetBytes(PackHtml.Of(PackWriter.Write(pack))), HtmlMediaType, $"{name}.html"),
            _ => Answers.File(PackPdf.Of(PackWriter.Write(pack), wanted.Paper, wish.Now), PdfMediaType, $"{name}.pdf"),
        };
    }

    private sealed record Wanted(HandoverFormat Format, PackPaper Paper, HandoverWish Wish);

    /// <summary>What may be asked for.</summary>
    private sealed record Asked(
        [FromQuery(Name = "format")] string? Format,
        [FromQuery(Name = "paper")] string? Paper,
        [FromQuery(Name = "asOf")] string? AsOf,
        [FromQuery(Name = "knownBy")] string? KnownBy,
        [FromQuery(Name = "offsetMinutes")] int? OffsetMinutes,
        [FromQuery(Name = "lookMonths")] int? LookMonths,
        [FromQuery(Name = "readMonths")] int? ReadMonths,
        [FromQuery(Name = "boxMonths")] int? BoxMonths,
        [FromQuery(Name = "ductMonths")] int? DuctMonths,
        [FromQuery(Name = "insulationMonths")] int? InsulationMonths,
        [FromQuery(Name = "buttonMonths")] int? ButtonMonths,
        [FromQuery(Name = "mainsMonths")] int? MainsMonths)
    {
        public bool TryRead(string site, DateTimeOffset now, out Wanted wanted, out IResult? refused)
        {
            wanted = null!;
            var usual = HandoverIntervals.Default;
            var every = new HandoverIntervals
            {
                LookMonths = LookMonths ?? usual.LookMonths,
                ReadMonths = ReadMonths ?? usual.ReadMonths,
                BoxMonths = BoxMonths ?? usual.BoxMonths,
                DuctMonths = DuctMonths ?? usual.DuctMonths,
                InsulationMonths = InsulationMonths ?? usual.InsulationMonths,
                ButtonMonths = ButtonMonths ?? usual.ButtonMonths,
                MainsMonths = MainsMonths ?? usual.MainsMonths,
            };
            if (!Query.TryEnum(Format, HandoverFormat.Pdf, "format", out var format, out var problem)
                || !Query.TryEnum(Paper, PackPaper.A4, "paper", out var paper, out problem)
                || !Query.TryTime(AsOf, "asOf", out var asOf, out problem)
                || !Query.TryTime(KnownBy, "knownBy", out var knownBy, out problem)
                || !Query.TryOffset(OffsetMinutes, out var offset, out problem)
                || !Query.TrySettings(every, out problem))
            {
                refused = Problems.Result(problem!);
                return false;
            }

            refused = null;
            wanted = new Wanted(format, paper, new HandoverWish { SiteId = site, Now = now, AsOf = asOf, KnownBy = knownBy, OffsetMinutes = offset, Every = every });
            return true;
        }
    }
}
