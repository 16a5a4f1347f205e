using FleetLight.Contracts.Views;
using FleetLight.Electrics;

namespace FleetLight.Record.Circuits;

/// <summary>
/// Judges the readings of a visit together. The worst of several single verdicts calls a sound circuit outside the oftener the
/// more places are read; the risk that the organisation set is meant for the circuit.
/// </summary>
internal static class Together
{
    /// <summary>
    /// The judgement; none where fewer than two readings stand beside each other, or an earlier version of the models judged
    /// one of them and that stands.
    /// </summary>
    public static TogetherView? Of(Visit visit)
    {
        var basis = visit.Basis;
        if (visit.Newest.Count < 2 || basis is not { Model: { } model, Reads: { } reads }) return null;
        var oldestFirst = new MeasuredReading[visit.Newest.Count];
        for (var i = 0; i < oldestFirst.Length; i++)
        {
            var reading = visit.Newest[oldestFirst.Length - 1 - i];
            if (reading.View.ModelVersion != basis.ModelVersion) return null;
            oldestFirst[i] = ReadingJudge.Measured(reading.Entry, reading.Node);
        }

        var judging = basis.Judging ?? Judging.Default;
        var all = Verdicts.JudgeAll(model, reads, oldestFirst, judging.Rule, judging.Assumptions);
        return all.Compared < 2 ? null : new TogetherView
        {
            Verdict = ReadingJudge.Translate(all.Kind),
            Why = all.Text,
            Compared = all.Compared,
            ShareFartherOff = Rounded(all.ShareFartherOff),
            ProbabilityAsDesigned = Rounded(all.ProbabilityAsDesigned),
            LeastFitting = all.LeastFitting is { } least ? visit.Newest[oldestFirst.Length - 1 - least].View.Fact : null,
        };
    }

    private static double? Rounded(double? share) => share is { } known ? Math.Round(known, 4) : null;
}
