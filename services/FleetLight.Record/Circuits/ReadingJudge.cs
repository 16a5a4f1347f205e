using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Electrics;
using FleetLight.Record.Files;

namespace FleetLight.Record.Circuits;

/// <summary>Judges single readings against the basis of their circuit.</summary>
internal static class ReadingJudge
{
    /// <summary>What is said while there is nothing to judge by.</summary>
    public const string NoDesign = "The design of the circuit is not known yet.";

    public static JudgedReading Judge(CircuitBasis basis, ReadingEntry entry, KeptJudgements kept)
    {
        var node = Node(basis, entry);
        var earlier = kept.EarlierOf(entry.Fact, basis);
        var (verdict, why) = (CircuitVerdict.CannotBeJudged, "");
        var counts = true;
        double? likely = null;
        if (basis.DesignChangedAt is { } changed && entry.HappenedAt < changed)
        {
            counts = false;
            why = $"Taken before the design was changed on {Words.Of(changed)}.";
        }
        else if (earlier is { } stands)
        {
            verdict = stands.Verdict;
            why = $"Judged {Words.Of(stands.Verdict)} by version {stands.ModelVersion} of the models; that stands.";
            counts = !(entry.HappenedAt < basis.LastRepairAt);
        }
        else if (basis.Reads is null && basis.Refusal is null)
        {
            why = NoDesign;
        }
        else
        {
            var judged = Verdicts.Judge(
                (ExpectedOutcome?)basis.Reads ?? basis.Refusal, Measured(entry, node),
                (basis.Judging ?? Judging.Default).Rule);
            likely = judged.ProbabilityAsDesigned;
            verdict = Translate(judged.Kind);
            why = judged.Text;
            if (basis.LastRepairAt is { } repaired && entry.HappenedAt < repaired)
            {
                counts = false;
                why += $" Taken before the repair of {Words.Of(repaired)}.";
            }
        }

        var view = View(basis, entry, node, verdict, why) with
        {
            ProbabilityAsDesigned = likely is { } known ? Math.Round(known, 4) : null,
        };
        return new(
            entry,
            earlier is { } by ? view with { Expected = null, ModelVersion = by.ModelVersion } : view,
            node,
            counts);
    }

    public static MeasuredReading Measured(ReadingEntry entry, string node) =>
        new(node, Translate(entry.Quantity), entry.Value)
        {
            Meter = entry.Meter is { } meter
                ? new MeterAccuracy(meter.PercentOfReading, meter.Digits, meter.Resolution)
                : null,
        };

    public static MeasuredQuantity Translate(ReadingQuantity quantity) => quantity switch
    {
        ReadingQuantity.Milliamps => MeasuredQuantity.Milliamps,
        ReadingQuantity.LoopOhms => MeasuredQuantity.LoopOhms,
        _ => MeasuredQuantity.VoltsDc,
    };

    // The place as sent may be the id of a box that was joined to another.
    public static string Node(CircuitBasis basis, ReadingEntry entry)
    {
        if (entry.Place == ReadingPlaceKind.Driver || entry.PlaceId is not { } id) return CircuitModel.DriverNode;
        return basis.BoxAliases is { } aliases && aliases.TryGetValue(id, out var kept) ? kept : id;
    }

    private static ReadingView View(
        CircuitBasis basis, ReadingEntry entry, string node, CircuitVerdict verdict, string why) => new()
        {
            Fact = entry.Fact,
            HappenedAt = entry.HappenedAt,
            Place = entry.Place,
            PlaceId = entry.PlaceId,
            Quantity = entry.Quantity,
            Value = entry.Value,
            Expected = Expected(basis, entry, node),
            Verdict = verdict,
            Why = why,
            ModelVersion = basis.ModelVersion,
        };

    private static ExpectedValue? Expected(CircuitBasis basis, ReadingEntry entry, string node)
    {
        foreach (var expected in basis.Expected)
        {
            if (expected.Quantity != entry.Quantity) continue;
            if ((expected.PlaceId ?? CircuitModel.DriverNode) == node) return expected.Expected;
        }

        return null;
    }

    public static CircuitVerdict Translate(VerdictKind kind) => kind switch
    {
        VerdictKind.Within => CircuitVerdict.Within,
        VerdictKind.Doubtful => CircuitVerdict.Doubtful,
        VerdictKind.Outside => CircuitVerdict.Outside,
        _ => CircuitVerdict.CannotBeJudged,
    };
}
