using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;

namespace FleetLight.Record.Rules.Circuits;

/// <summary>What the rules on tests share: the newest test of a kind and side whose figures do not meet the value named.</summary>
internal static class FailedTests
{
    /// <summary>What distinguishes a test on the mains side.</summary>
    public const string MainsSide = "mains-side";

    /// <summary>Adds what a rule finds on the circuit's tests of a kind.</summary>
    public static void Find(Rule rule, TestKind kind, CircuitState circuit, ICollection<Finding> found)
    {
        foreach (var (test, view) in circuit.Tests)
        {
            if (view.Test != kind || view.Meets != false) continue;
            found.Add(rule.On(
                circuit.Subject,
                view.Says,
                [circuit.Subject.Id],
                [test.Key],
                view.MainsSide ? MainsSide : "output-side",
                Electrics.Expected.ModelVersion));
        }
    }
}
