using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Record.Corrections;

namespace FleetLight.Record.Checks.Across;

/// <summary>Corrections and joinings.</summary>
internal static class CorrectionRules
{
    public static void Check(FactCorrected correction, CheckRun run)
    {
        var type = FactTypes.Find(correction.TargetType);
        if (type is null || type == typeof(FactCorrected))
        {
            run.Invalid(
                "targetType",
                type is null ? "targetType is no known type of fact." : "A correction is not itself corrected.",
                "Name the type of the fact meant; a later correction of the same fact counts in place of an "
                    + "earlier one.");
        }
        else if (correction.Action == CorrectionAction.Withdraw)
        {
            if (correction.Replacement is not null)
                run.Invalid(
                    "replacement",
                    "A withdrawal carries a replacement.",
                    "Leave replacement out, or give the action replace.");
        }
        else
        {
            CheckReplacement(correction, run);
        }
    }

    public static void Check(ThingsJoined joined, CheckRun run)
    {
        if (joined.Kind is not (ThingKind.Duct or ThingKind.Cable or ThingKind.Box))
            run.Invalid("kind", "Only ducts, cables and boxes are joined.", "Give duct, cable or box.");
        if (joined.KeptId == joined.SameId)
            run.Invalid("sameId", "sameId is the same as keptId.", "Name the two ids that turned out to be one thing.");
    }

    private static void CheckReplacement(FactCorrected correction, CheckRun run)
    {
        if (correction.Replacement is null)
        {
            run.Invalid(
                "replacement",
                "replacement is missing.",
                "Give the data that counts instead, or the action withdraw.");
            return;
        }

        var read = ReplacementReader.Read(correction);
        if (read.Fact is { } fact) run.Take("replacement", FactCheck.Check(fact));
        else
        {
            run.Invalid(
                "replacement" + read.At,
                $"replacement is not data of type {correction.TargetType}.",
                "Give every member that the type asks for, with its name and kind, and no other.");
        }
    }
}
