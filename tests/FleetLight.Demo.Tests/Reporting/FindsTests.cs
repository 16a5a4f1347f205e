using FleetLight.Contracts.Views;
using FleetLight.Demo.Planning;
using FleetLight.Demo.Reporting;
using FleetLight.Demo.Tests.Sending;
using FleetLight.Demo.Works;

namespace FleetLight.Demo.Tests.Reporting;

public sealed class FindsTests
{
    private static readonly Plant Joint = Some.Fleet().Plants.Single(plant => plant.Role == Role.JointGoingBad);
    private static readonly Plant Duct = Some.Fleet().Plants.Single(plant => plant.Role == Role.DuctLeftOpen);

    [Fact]
    public void An_alert_of_the_rule_on_the_thing_is_a_find()
    {
        var finds = Finds.Of(Duct, Answers([Alert("duct-left-open", Duct.Subject)]));
        Assert.Equal(new Finds(true, "duct-left-open (warning): It is so."), finds);
    }

    [Fact]
    public void An_alert_of_another_rule_or_on_another_thing_is_a_miss()
    {
        Assert.False(Finds.Of(Duct, Answers([Alert("duct-unlabelled", Duct.Subject)])).Found);
        var finds = Finds.Of(Duct, Answers([Alert("duct-left-open", Duct.Subject with { Id = "other" })]));
        Assert.Equal(new Finds(false, "no alert duct-left-open"), finds);
    }

    [Fact]
    public void An_alert_with_another_verdict_than_is_due_is_a_miss()
    {
        var finds = Finds.Of(Joint, Answers([Alert("reading-outside", Joint.Subject)], StandIn.ViewOf(Joint.CircuitId, CircuitVerdict.Doubtful)));
        Assert.False(finds.Found);
        Assert.EndsWith("verdict doubtful, outside was due", finds.Says, StringComparison.Ordinal);
    }

    [Fact]
    public void The_truth_s_place_among_the_explanations_is_told()
    {
        var view = StandIn.ViewOf(Joint.CircuitId, CircuitVerdict.Outside, Explanation("cable-longer", 0.7), Explanation("high-resistance-joint", 0.3));
        var finds = Finds.Of(Joint, Answers([Alert("reading-outside", Joint.Subject)], view));
        Assert.True(finds.Found);
        Assert.Contains("leading explanation (70 %): A cable-longer.", finds.Says, StringComparison.Ordinal);
        Assert.Contains("the truth is explanation 2 of 2 (30 %): A high-resistance-joint.", finds.Says, StringComparison.Ordinal);
    }

    [Fact]
    public void A_truth_that_is_no_explanation_is_told()
    {
        var view = StandIn.ViewOf(Joint.CircuitId, CircuitVerdict.Outside, Explanation("cable-longer", 1));
        Assert.EndsWith("the truth, high-resistance-joint, is not among the 1 explanations", Finds.Of(Joint, Answers([], view)).Says, StringComparison.Ordinal);
    }

    private static Answers Answers(AlertView[] alerts, CircuitView? view = null) => new()
    {
        Circuits = new Dictionary<string, CircuitLine>(),
        Planted = view is null ? new Dictionary<string, CircuitView>() : new() { [view.Id] = view },
        Alerts = alerts,
        Receipts = new Dictionary<Device, Contracts.Wire.Receipt>(),
        Refused = [],
        CaughtUp = true,
    };

    private static ExplanationView Explanation(string fault, double likelihood) =>
        new() { Fault = fault, Says = $"A {fault}.", At = [], Likelihood = likelihood, Group = 1 };

    private static AlertView Alert(string rule, ThingRef subject) => new()
    {
        Id = rule + subject.Id,
        SiteId = "s01",
        Finding = new Finding
        {
            Rule = rule,
            Subject = subject,
            Cause = "",
            Severity = AlertSeverity.Warning,
            Reason = "It is so.",
            Remedy = "",
            CircuitIds = [],
            Evidence = [],
        },
        Standing = AlertStanding.Raised,
        RaisedAt = Some.Anchor,
        TimesRaised = 1,
    };
}
