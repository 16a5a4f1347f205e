using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Rules;

namespace FleetLight.Record.Tests.Works;

/// <summary>A job told fact by fact: given, when and then of the tests of rules.</summary>
internal sealed class Job
{
    private readonly Crew crew = new();

    public WorksModel Works { get; } = new();

    public CircuitView Circuit => Works.Circuit(Facts.Circuit);

    /// <summary>A job of which these facts are known.</summary>
    public static Job Of(params IFact[] facts) => new Job().Tells(facts);

    /// <summary>The crew records facts a minute apart and sends them.</summary>
    public Job Tells(params IFact[] facts)
    {
        Works.Take([.. facts.Select(fact => crew.Records(fact))]);
        return this;
    }

    /// <summary>The crew records one fact and sends it; the fact is needed again for a correction.</summary>
    public RecordedFact TellsOne(IFact fact)
    {
        var recorded = crew.Records(fact);
        Works.Take(recorded);
        return recorded;
    }

    /// <summary>Time passes.</summary>
    public Job Waits(double hours)
    {
        crew.Waits(hours);
        return this;
    }

    /// <summary>The rule finds one thing, with that cause.</summary>
    public Finding Finds(Rule rule, string cause = "")
    {
        var finding = Assert.Single(Of(rule), finding => finding.Cause == cause);
        Assert.Equal(rule.Clears, finding.Remedy);
        Assert.NotEmpty(finding.Reason);
        Assert.NotEmpty(finding.Evidence);
        return finding;
    }

    /// <summary>The rule finds nothing.</summary>
    public Job FindsNothing(Rule rule)
    {
        Assert.Empty(Of(rule));
        return this;
    }

    private IEnumerable<Finding> Of(Rule rule) => Works.Findings.Where(finding => finding.Rule == rule.Id);
}
