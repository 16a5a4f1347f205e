using System.Globalization;
using System.Text;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Labels;
using FleetLight.Labels.Drawing;
using FleetLight.Labels.Sheets;
using FleetLight.Record.Files;
using FleetLight.Record.Sites;
using FleetLight.Service.Access;
using FleetLight.Service.Hosting;
using FleetLight.Service.Sites;
using Microsoft.AspNetCore.Mvc;

namespace FleetLight.Service.Labels;

/// <summary>Forms in which labels are answered.</summary>
public enum LabelFormat
{
    /// <summary>SVG, one page.</summary>
    Svg,

    /// <summary>PDF, all pages.</summary>
    Pdf,
}

/// <summary>Labels for what stands on a site, to be printed.</summary>
public static class LabelEndpoint
{
    private const int MostLabels = 2000;
    private const string SvgMediaType = "image/svg+xml";
    private const string PdfMediaType = "application/pdf";

    private static readonly ThingKind[] Usual = [ThingKind.Duct, ThingKind.Cable, ThingKind.Box, ThingKind.Circuit];

    /// <summary>Maps it.</summary>
    public static void MapLabels(this IEndpointRouteBuilder routes) =>
        routes.MapGet("/v1/sites/{id}/labels", GetAsync).Needs(Scope.ReadStatus).WithTags("Sites")
            .WithSummary("Labels for a site's ducts, cables, boxes and drivers")
            .WithDescription(
                "A label for each end of a duct and a cable, for each box, and for each circuit's driver, in its true size when printed at 100 %: text, and a QR code "
                + "with the address of the thing's page (error correction M, four modules clear around it, ISO/IEC 18004). On a tape too narrow for a code that can be "
                + "read the label has text alone; the header Label-Notes says how many, and why. SVG holds one page, the header Link names the next; PDF holds all. "
                + $"Sizes in mm. At most {MostLabels} labels at once.")
            .Produces<string>(200, SvgMediaType, PdfMediaType).ProducesProblems(400, 401, 403, 404);

    private static async Task<IResult> GetAsync(
        string id, HttpContext context, Caller caller, SiteReader sites, IConfiguration configuration, TimeProvider clock,
        [AsParameters] Asked asked, CancellationToken cancel)
    {
        if (!asked.TryRead(out var wanted, out var refused)) return refused!;
        if (await sites.FindAsync(caller.Organisation, id, cancel) is not { } states) return Problems.Result(Problems.NotFound("site", id));
        var options = new LabelOptions
        {
            PublicAddress = PublicAddress.Of(context.Request, configuration),
            TapeMillimetres = wanted.Tape,
            MostLengthMillimetres = Math.Min(90, LabelSheets.MostLength(wanted.Paper)),
        };
        LabelText[] texts = [.. Texts(states, wanted).Take(MostLabels + 1)];
        if (texts.Length == 0)
        {
            return Problems.Result(Problems.Parameter(
                wanted.Things is null ? "kinds" : "things", "The site has none of these things.", "Ask for others, or leave the parameter out."));
        }

        if (texts.Length > MostLabels)
            return Problems.Result(Problems.Parameter("things", $"These are more than {MostLabels} labels.", "Ask for some of the things, or for one kind at a time."));
        Label[] labels = [.. texts.Select(text => LabelMaker.Make(text, options))];
        Tell(context, labels);
        var pages = LabelSheets.Pages(labels, wanted.Paper);
        var title = $"Labels of {states.Site?.Name ?? id}";
        if (wanted.Format == LabelFormat.Pdf) return Answers.File(LabelPdf.Of([.. pages.Select(page => page.Drawing)], title, clock.GetUtcNow()), PdfMediaType, "labels.pdf");
        if (wanted.Page > pages.Count)
            return Problems.Result(Problems.Parameter("page", $"There are {pages.Count} pages.", $"Ask for 1 to {pages.Count}."));
        if (wanted.Page < pages.Count) context.Response.Headers.Link = $"<{context.Request.Path}{NextPage(context.Request, wanted.Page + 1)}>; rel=\"next\"";
        return Answers.File(Encoding.UTF8.GetBytes(SvgText.Of(pages[wanted.Page - 1].Drawing, title, Says(pages[wanted.Page - 1].Labels))), SvgMediaType, "labels.svg");
    }

    private static IEnumerable<LabelText> Texts(SiteStates states, Wanted wanted)
    {
        string NameOf(string circuit) => states.Circuits.FirstOrDefault(one => one.Id == circuit)?.Name ?? circuit;
        var all = Kept(states.Ducts).SelectMany(SiteLabels.Of)
            .Concat(Kept(states.Cables).SelectMany(cable => SiteLabels.Of(cable, NameOf)))
            .Concat(Kept(states.Boxes).Select(box => SiteLabels.Of(box, NameOf)))
            .Concat(Kept(states.Circuits).Select(circuit => SiteLabels.Of(circuit, DriverOf(states.Designs.GetValueOrDefault(circuit.Id)))));
        return all.Where(text => wanted.Things is { } things ? things.Contains(new ThingRef(text.Kind, text.Id)) : wanted.Kinds.Contains(text.Kind));
    }

    private static IEnumerable<T> Kept<T>(IEnumerable<T> views) where T : ThingView => views.Where(view => view.SameAs is null);

    // For whoever cannot see the picture, and for search: what stands on it is drawn, not written.
    private static string Says(IEnumerable<Label> labels) => string.Join("; ", labels.Select(label => label.Says));

    private static string? DriverOf(CircuitDesigned? design) => design switch
    {
        null => null,
        { Drive: DriveKind.ConstantCurrent } => $"driver {Words.Of(design.Driver.RatedMilliamps, "mA")}",
        _ => $"driver {Words.Of(design.Driver.RatedVolts, "V")} DC",
    };

    private static QueryString NextPage(HttpRequest request, int page) => QueryString.Create(
        request.Query.Where(pair => pair.Key != "page").SelectMany(pair => pair.Value, (pair, value) => KeyValuePair.Create<string, string?>(pair.Key, value))
            .Append(KeyValuePair.Create<string, string?>("page", page.ToString(CultureInfo.InvariantCulture))));

    // A header takes ASCII only; the notes are our own words and numbers.
    private static void Tell(HttpContext context, Label[] labels)
    {
        var notes = labels.SelectMany(label => label.Notes).GroupBy(note => note).Select(group => $"{group.Count()} of {labels.Length}: {group.Key}");
        if (string.Join(' ', notes) is { Length: > 0 } told) context.Response.Headers[NotesHeader] = told.Length <= 1000 ? told : told[..1000];
    }

    /// <summary>The header that tells what to know of the labels.</summary>
    public const string NotesHeader = "Label-Notes";

    private sealed record Wanted(double Tape, LabelFormat Format, Paper Paper, int Page, IReadOnlySet<ThingKind> Kinds, IReadOnlySet<ThingRef>? Things);

    /// <summary>What may be asked for.</summary>
    private sealed record Asked(
        [FromQuery(Name = "tapeMillimetres")] double? TapeMillimetres,
        [FromQuery(Name = "kinds")] string? Kinds,
        [FromQuery(Name = "things")] string? Things,
        [FromQuery(Name = "format")] string? Format,
        [FromQuery(Name = "paper")] string? Paper,
        [FromQuery(Name = "page")] int? Page)
    {
        public bool TryRead(out Wanted wanted, out IResult? refused)
        {
            wanted = null!;
            var kinds = new HashSet<ThingKind>(string.IsNullOrEmpty(Kinds) ? Usual : []);
            HashSet<ThingRef>? things = string.IsNullOrEmpty(Things) ? null : [];
            Problem? problem = null;
            if (!Query.TryEnum(Format, LabelFormat.Svg, "format", out var format, out var wrong)) problem = wrong;
            if (!Query.TryEnum(Paper, FleetLight.Labels.Sheets.Paper.A4, "paper", out var paper, out wrong)) problem ??= wrong;
            var tape = TapeMillimetres ?? 12;
            if (!(tape >= LabelOptions.LeastTape && tape <= LabelOptions.MostTape))
                problem ??= Problems.Parameter("tapeMillimetres", "There is no tape of that width.", $"Give {LabelOptions.LeastTape} to {LabelOptions.MostTape} mm.");
            if (Page is < 1) problem ??= Problems.Parameter("page", "Pages are counted from 1.", "Ask for 1 or more.");
            foreach (var kind in Parts(Kinds))
            {
                if (KindOf(kind) is { } known) kinds.Add(known);
                else problem ??= Problems.Parameter("kinds", $"'{kind}' is no kind that has labels.", "Use duct, cable, box and circuit, with commas between.");
            }

            foreach (var thing in Parts(Things))
            {
                var colon = thing.IndexOf(':', StringComparison.Ordinal);
                if (colon > 0 && KindOf(thing[..colon]) is { } known) things!.Add(new ThingRef(known, thing[(colon + 1)..]));
                else problem ??= Problems.Parameter("things", $"'{thing}' names no thing.", "Write each as kind:id, for instance duct:d1, with commas between.");
            }

            refused = problem is null ? null : Problems.Result(problem);
            if (problem is null) wanted = new Wanted(tape, format, paper, Page ?? 1, kinds, things);
            return problem is null;
        }

        private static ThingKind? KindOf(string word) => Usual.Cast<ThingKind?>().FirstOrDefault(kind => LabelText.Word(kind!.Value) == word);

        private static string[] Parts(string? list) => (list ?? "").Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
    }
}
