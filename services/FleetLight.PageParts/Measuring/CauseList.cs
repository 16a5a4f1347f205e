using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.PageParts.Drawings.Circuits;

namespace FleetLight.PageParts.Measuring;

/// <summary>A likely cause, as it is told at the driver.</summary>
/// <param name="Share">How likely it is beside the other causes listed, 0 to 1, no unit.</param>
/// <param name="What">What and where.</param>
/// <param name="WhatToDo">What to do about it, safely.</param>
/// <param name="AlsoShows">What else would show if it were so; empty where nothing is told of it.</param>
/// <param name="Group">Causes of the same group cannot be told apart by what was read.</param>
public sealed record Cause(double Share, string What, string WhatToDo, string AlsoShows, int Group);

/// <summary>A measurement that would tell most.</summary>
/// <param name="Places">Where.</param>
/// <param name="Says">What to do.</param>
/// <param name="Caution">What to mind.</param>
/// <param name="WouldRead">What the likeliest causes would read there.</param>
public sealed record NextStep(IReadOnlyList<string> Places, string Says, string Caution, IReadOnlyList<string> WouldRead);

/// <summary>What would explain the readings, and where to measure next, out of a calculation's answer. Pure.</summary>
public sealed record CauseList
{
    // The service lists the same of a state: five causes, those of less than one percent left out.
    private const int Most = 5;
    private const double LeastPercent = 1;
    private const int MostNext = 3;

    /// <summary>The causes, likeliest first.</summary>
    public required IReadOnlyList<Cause> Causes { get; init; }

    /// <summary>What cannot be told apart, a sentence for each group.</summary>
    public required IReadOnlyList<string> CannotTellApart { get; init; }

    /// <summary>Where to measure next, the best first; none where measuring can stop.</summary>
    public required IReadOnlyList<NextStep> Next { get; init; }

    /// <summary>Why measuring can stop, where it can.</summary>
    public string? Stop { get; init; }

    /// <summary>Where the trouble may be, for the drawing.</summary>
    public required IReadOnlyList<Suspect> Suspects { get; init; }

    /// <summary>The list of an answer; none where the answer has no diagnosis.</summary>
    public static CauseList? Of(NextMeasurementAnswer answer)
    {
        ArgumentNullException.ThrowIfNull(answer);
        if (answer.Diagnosis is not { } found) return null;
        var listed = found.Explanations.Where(one => one.ProbabilityPercent >= LeastPercent).Take(Most).ToList();
        var sum = listed.Sum(one => one.ProbabilityPercent);
        return new CauseList
        {
            Causes = [.. listed.Select(one => new Cause(one.ProbabilityPercent / sum, one.What, one.WhatToDo, one.AlsoShows, one.Group))],
            CannotTellApart = [.. found.Groups.Where(group => group.Members.Count > 1 && group.ProbabilityPercent >= LeastPercent).Select(group => group.Says)],
            Next = answer.Stop is null
                ?
                [
                    .. answer.Candidates.Take(MostNext).Select(one => new NextStep(
                        one.Places, one.Text, one.Caution, [.. one.WouldRead.Select(would => $"{would.Text} – if so: {would.If}")])),
                ]
                : [],
            Stop = answer.Stop?.Text,
            Suspects = Suspect.Of(found with { Explanations = [.. listed.Where(one => one.Fault is not (KindOfFault.AsDesigned or KindOfFault.NoneOfThese))] }),
        };
    }
}
