using System.CommandLine;
using System.Text.Json;
using FleetLight.Contracts.Wire;

namespace FleetLight.Verify;

/// <summary>The command line.</summary>
internal static class VerifyCommand
{
    /// <summary>All that was looked at holds.</summary>
    public const int Sound = 0;

    /// <summary>Something does not hold.</summary>
    public const int Unsound = 1;

    /// <summary>The command was not understood.</summary>
    public const int NotUnderstood = 2;

    /// <summary>A file cannot be used.</summary>
    public const int Unusable = 3;

    /// <summary>Makes it.</summary>
    public static RootCommand Make(TextWriter output, TextWriter errors)
    {
        var export = new Argument<string>("export") { Description = "The file of facts, as /v1/export/facts gave it; compressed with gzip or not." };
        var manifest = new Option<string?>("--manifest") { Description = "The manifest of the export (/v1/export/manifest)." };
        var leaves = new Option<string?>("--leaves") { Description = "The leaf hashes (/v1/export/leaf-hashes): with them the line that was altered is named." };
        var checkpoint = new Option<string[]>("--checkpoint") { Description = "A checkpoint that was kept, or a page of them; may be given several times." };
        var keys = new Option<string?>("--keys") { Description = "The keys that are believed (/v1/ledger/keys), as they were kept from before or come from somebody else." };
        var pack = new Option<string?>("--pack") { Description = "A handover pack to check against the export: its list of facts (facts.txt), or the pack as HTML or JSON." };
        var digest = new Option<string?>("--pack-digest") { Description = "The digest that is printed in the pack: all of it, or what stands at the foot of its pages." };
        var json = new Option<bool>("--json") { Description = "Say what was found as JSON." };
        var command = new RootCommand("Checks an export of FleetLight without the service: that every fact is there, unaltered, in its order, and was signed.")
        {
            export, manifest, leaves, checkpoint, keys, pack, digest, json,
        };
        command.SetAction(async (parsed, cancel) =>
        {
            if (parsed.Errors.Count > 0) return NotUnderstood;
            try
            {
                var verification = new Verification(
                    parsed.GetRequiredValue(export),
                    parsed.GetValue(manifest) is { } m ? Evidence.Manifest(m) : null,
                    [.. (parsed.GetValue(checkpoint) ?? []).SelectMany(Evidence.Checkpoints)],
                    parsed.GetValue(keys) is { } k ? Evidence.Keys(k) : null,
                    parsed.GetValue(leaves) is { } l ? Evidence.Leaves(l) : null,
                    parsed.GetValue(pack) is { } p ? PackList.Read(p) : null,
                    parsed.GetValue(digest) is { } d ? PackList.Printed(d) : null);
                if (verification is { PackDigest: not null, Pack: null }) throw new UnusableException("--pack-digest needs the pack's list of facts: give it with --pack.");
                var findings = await verification.RunAsync(cancel);
                Say(output, findings, parsed.GetValue(json));
                // What could not be told at all is not sound either.
                return findings.Any(each => each.Holds == false) || !findings.Any(each => each.Holds == true) ? Unsound : Sound;
            }
            catch (UnusableException unusable)
            {
                await errors.WriteLineAsync($"error: {unusable.Message}");
                return Unusable;
            }
        });
        return command;
    }

    private static void Say(TextWriter output, IReadOnlyList<Finding> findings, bool asJson)
    {
        if (asJson)
        {
            output.WriteLine(JsonSerializer.Serialize(new { sound = findings.All(each => each.Holds != false), findings }, WireJson.Lenient));
            return;
        }

        foreach (var finding in findings)
            output.WriteLine($"{finding.Holds switch { true => "holds         ", false => "DOES NOT HOLD ", _ => "cannot tell   " }} {finding.Says}");
        output.WriteLine(findings.Any(each => each.Holds == false) ? "Something is not what it should be." : "Nothing was found wrong.");
    }
}
