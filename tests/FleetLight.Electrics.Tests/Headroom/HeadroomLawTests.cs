using FsCheck;
using FsCheck.Xunit;

namespace FleetLight.Electrics.Tests.HeadroomAndChange;

/// <summary>Laws that hold for any question.</summary>
public class HeadroomLawTests
{
    private static readonly HeadroomOptions Short = new() { MostProposals = 0, WithLongestRuns = false };

    [Property(MaxTest = 300)]
    public bool A_longer_new_run_never_makes_it_possible(PositiveInt seed)
    {
        var random = new Random(seed.Get);
        var (question, _) = Asked.Random(random);
        if (question.Where.Run is not { } run) return true;
        var more = run with { LengthMetres = run.LengthMetres * (1 + random.NextDouble()) };
        var longer = question with { Where = question.Where with { Run = more } };
        return May(longer) >= May(question);
    }

    [Property(MaxTest = 300)]
    public bool A_longer_run_that_lies_already_never_makes_it_possible(PositiveInt seed)
    {
        var random = new Random(seed.Get);
        var (question, _) = Asked.Random(random);
        return May(Altered(question, random, r => r with { LengthMetres = r.LengthMetres * 1.5 })) >= May(question);
    }

    [Property(MaxTest = 300)]
    public bool A_larger_conductor_never_makes_it_impossible(PositiveInt seed)
    {
        var random = new Random(seed.Get);
        var (question, _) = Asked.Random(random);
        var lying = Altered(question, random, r => r with { AreaSquareMillimetres = 6 });
        if (question.Where.Run is { } run)
        {
            var laid = question with { Where = question.Where with { Run = run with { AreaSquareMillimetres = 6 } } };
            if (May(laid) > May(question)) return false;
        }

        return May(lying) <= May(question);
    }

    [Property(MaxTest = 200)]
    public bool The_longest_run_passes_and_a_tenth_of_a_metre_more_fails(PositiveInt seed)
    {
        var (question, options) = Asked.Random(new Random(seed.Get));
        options = options with { MostProposals = 0 };
        double before = 0;
        foreach (var longest in Asked.Answer(question, options).LongestRuns)
        {
            if (longest.LengthMetres is not { } metres)
            {
                if (May(Laid(0)) != MayBeAdded.No) return false;
                continue;
            }

            if (metres < before || May(Laid(metres)) == MayBeAdded.No) return false;
            if (longest.EndedBy is not null && May(Laid(metres + 0.1)) != MayBeAdded.No) return false;
            before = metres;
            HeadroomQuestion Laid(double length) => question with
            {
                Where = question.Where with
                {
                    Run = (question.Where.Run ?? new NewRun(0, 1, options.RunClass)) with
                    {
                        LengthMetres = length,
                        AreaSquareMillimetres = longest.AreaSquareMillimetres,
                    },
                },
            };
        }

        return true;
    }

    [Property(MaxTest = 200)]
    public bool Every_proposal_really_makes_it_possible(PositiveInt seed)
    {
        var (question, options) = Asked.Random(new Random(seed.Get));
        var answer = Asked.Answer(question, options with { WithLongestRuns = false });
        if (answer.May != MayBeAdded.No) return answer.Proposals.IsEmpty;
        foreach (var proposal in answer.Proposals)
        {
            var done = Asked.Answer(proposal.Steps.Aggregate(question, StepsTaken.After), Short);
            if (done.May == MayBeAdded.No || done.May != proposal.May) return false;
            // Of two steps neither suffices alone.
            if (proposal.Steps.Length == 2
                && proposal.Steps.Any(step => May(StepsTaken.After(question, step)) != MayBeAdded.No))
            {
                return false;
            }
        }

        return answer.Proposals.Select(p => p.Cost).SequenceEqual(answer.Proposals.Select(p => p.Cost).Order());
    }

    /// <summary>
    /// The generated questions reach every answer and most kinds of step, or the laws above prove little.
    /// </summary>
    [Fact]
    public void The_generator_reaches_every_answer_and_kind_of_step()
    {
        var answers = Enumerable.Range(1, 400).Select(seed =>
        {
            var (question, options) = Asked.Random(new Random(seed));
            return Asked.Answer(question, options with { WithLongestRuns = false });
        }).ToList();
        foreach (var may in Enum.GetValues<MayBeAdded>()) Assert.True(answers.Count(a => a.May == may) >= 20, $"{may}");
        var kinds = answers.SelectMany(a => a.Proposals).SelectMany(p => p.Steps).Select(s => s.Kind).Distinct();
        Assert.Equal(Enum.GetValues<StepKind>(), kinds.Order());
        Assert.Contains(answers.SelectMany(a => a.Proposals), p => p.Steps.Length == 2);
    }

    private static MayBeAdded May(HeadroomQuestion question) => Asked.Answer(question, Short).May;

    private static HeadroomQuestion Altered(
        HeadroomQuestion question, Random random, Func<RunModel, RunModel> change)
    {
        var runs = question.Circuit.Runs;
        var at = random.Next(runs.Length);
        return question with
        {
            Circuit = question.Circuit with { Runs = runs.SetItem(at, change(runs[at])) },
        };
    }
}
