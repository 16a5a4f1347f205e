using System.CommandLine;
using System.Globalization;
using FleetLight.Client;
using FleetLight.FieldAgent.Identity;

namespace FleetLight.FieldAgent.Commands;

/// <summary><c>handover</c>: the handover pack of a site as a file, made by the service of all facts.</summary>
internal static class HandoverCommand
{
    private static readonly string[] Formats = ["pdf", "html", "json", "facts"];

    /// <summary>Makes it.</summary>
    public static Command Make()
    {
        var site = new Argument<string>("site") { Description = "The site." };
        var format = new Option<string>("--format") { Description = "pdf, html, json, or facts for the list of facts that its digest is over.", DefaultValueFactory = _ => "pdf" };
        var paper = new Option<string>("--paper") { Description = "a4 or letter.", DefaultValueFactory = _ => "a4" };
        var asOf = new Option<string?>("--as-of") { Description = "The day that it tells of, YYYY-MM-DD; today where absent." };
        var file = new Option<string?>("--output") { Description = "The file, written over where it is there; handover-SITE and the format's ending where absent." };
        format.AcceptOnlyFromAmong(Formats);
        paper.AcceptOnlyFromAmong("a4", "letter");
        var command = new Command("handover", "Write the handover pack of a site to a file. Needs a connection.") { site, format, paper, asOf, file };
        command.Does(async (parsed, parts, output, cancel) =>
        {
            DateTimeOffset? end = null;
            if (parsed.GetValue(asOf) is { } text)
            {
                if (!DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day) || day.Year is < 2000 or > 9000)
                    return output.Fail(ExitCodes.NotUnderstood, $"'{text}' is no day: write it like 2026-05-04.");
                end = EndOf(day);
            }

            if (parts.Identities.Find() is not { } identity) return output.Fail(ExitCodes.NotEnrolled, Problems.NotEnrolled());
            using var client = Clients.For(parts.Options, parts.Identities, identity, parts.Clock);
            var (id, form) = (parsed.GetRequiredValue(site), parsed.GetRequiredValue(format));
            var name = parsed.GetValue(file) ?? NameOf(id, form);
            // Told before the service works for half a minute.
            if (Directory.Exists(name)) return output.Fail(ExitCodes.NotDone, $"'{name}' is a folder: name a file in it.");
            if (Path.GetDirectoryName(name) is { Length: > 0 } folder && !Directory.Exists(folder))
                return output.Fail(ExitCodes.NotDone, $"There is no folder '{folder}': make it first, or name another.");
            try
            {
                var offset = (int)TimeZoneInfo.Local.GetUtcOffset(end ?? parts.Clock.GetUtcNow()).TotalMinutes;
                var pack = await client.Planning.HandoverAsync(id, form, parsed.GetRequiredValue(paper), end, offset, cancel);
                await KeepAsync(name, pack, cancel);
                return output.Say(new { file = name, bytes = pack.Length }, _ => [$"{name}, {pack.Length:#,0} bytes. Advice, never a certificate."]);
            }
            catch (ProblemException refused)
            {
                return output.Fail(ExitCodes.NotDone, refused.Problem);
            }
            catch (FleetLightException failed)
            {
                return output.Fail(ExitCodes.NotReached, failed.Message);
            }
        });
        return command;
    }

    // What may stand in an id and not in the name of a file becomes a hyphen.
    private static string NameOf(string site, string format) =>
        $"handover-{string.Concat(site.Select(letter => Path.GetInvalidFileNameChars().Contains(letter) ? '-' : letter))}{(format == "facts" ? "-facts.txt" : "." + format)}";

    // Beside its place first: a disk that runs full leaves what was there, and never half a pack.
    private static async Task KeepAsync(string name, byte[] pack, CancellationToken cancel)
    {
        var beside = $"{name}.part";
        try
        {
            await File.WriteAllBytesAsync(beside, pack, cancel);
            File.Move(beside, name, overwrite: true);
        }
        finally
        {
            File.Delete(beside);
        }
    }

    // The last second of the day by this machine's clock.
    private static DateTimeOffset EndOf(DateOnly day)
    {
        var local = day.AddDays(1).ToDateTime(TimeOnly.MinValue);
        while (TimeZoneInfo.Local.IsInvalidTime(local)) local = local.AddMinutes(30);
        return new DateTimeOffset(local, TimeZoneInfo.Local.GetUtcOffset(local)).AddSeconds(-1);
    }
}
