using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Contracts.Views;
using FleetLight.Record.Calculations;

namespace FleetLight.Record.Circuits;

/// <summary>
/// What a reading says before anybody records it: judged by the same steps as one that is recorded, so that the word at the driver
/// and the word of the service are one. The dear part, what would explain it, is a question that is put to
/// <see cref="CalculateNextMeasurement"/> wherever there is time for it. Advice, never a certificate.
/// </summary>
public static class ReadingTrial
{
    /// <summary>What was made of a reading.</summary>
    public static ReadingView Judge(CircuitBasis basis, ReadingEntry reading)
    {
        ArgumentNullException.ThrowIfNull(basis);
        ArgumentNullException.ThrowIfNull(reading);
        return ReadingJudge.Judge(basis, reading, KeptJudgements.None).View;
    }

    /// <summary>What was made of the readings of a window, newest first, without what would explain them.</summary>
    public static IReadOnlyList<ReadingView> Judge(CircuitBasis basis, ReadingWindow window)
    {
        ArgumentNullException.ThrowIfNull(window);
        return [.. window.Entries.Reverse().Select(reading => Judge(basis, reading))];
    }

    /// <summary>The judgement of the visit together with the reading; none where it stands alone.</summary>
    public static TogetherView? Together(CircuitBasis basis, ReadingWindow window, ReadingEntry reading) =>
        Circuits.Together.Of(VisitWith(basis, window, reading));

    /// <summary>
    /// What to ask for what would explain the visit's readings with this one, and where to measure next; none where nothing is to be
    /// explained.
    /// </summary>
    public static NextMeasurementRequest? Question(CircuitBasis basis, ReadingWindow window, ReadingEntry reading)
    {
        var visit = VisitWith(basis, window, reading);
        visit = visit with { Together = Circuits.Together.Of(visit) };
        if (basis.Model is not { } model || Explanations.EvidenceOf(visit) is not { } evidence) return null;
        var told = CircuitModels.Of(basis);
        return new NextMeasurementRequest
        {
            Circuit = AsRequested.Circuit(model),
            Assumptions = told.Assumptions,
            Readings = [.. evidence.Select(AsRequested.Reading)],
            Places = told.Places is { } places ? [.. places] : null,
            LookFor = told.LookFor,
            EnoughPercent = told.EnoughPercent,
            Effort = told.Effort,
        };
    }

    private static Visit VisitWith(CircuitBasis basis, ReadingWindow window, ReadingEntry reading)
    {
        ArgumentNullException.ThrowIfNull(basis);
        ArgumentNullException.ThrowIfNull(window);
        ArgumentNullException.ThrowIfNull(reading);
        JudgedReading[] newestFirst =
            [.. window.With(reading).Entries.Reverse().Select(entry => ReadingJudge.Judge(basis, entry, KeptJudgements.None))];
        return CircuitJudge.VisitOf(basis, newestFirst);
    }
}
