using System.Globalization;
using FleetLight.Testing;

namespace FleetLight.FieldAgent.Tests.Faults;

/// <summary>What a fault did.</summary>
/// <param name="Fault">The fault.</param>
/// <param name="Times">How often it was tried.</param>
/// <param name="Sent">Facts that writers were answered for, and that therefore have to arrive.</param>
/// <param name="Receipted">Those that the agent holds a receipt for.</param>
/// <param name="Found">Those that the service has.</param>
/// <param name="Lost">Those that it does not have.</param>
/// <param name="Doubled">Those that it has more than once.</param>
internal sealed record FaultRow(string Fault, int Times, int Sent, int Receipted, int Found, int Lost, int Doubled)
{
    /// <summary>Compares what writers were answered for with what the service has.</summary>
    public static FaultRow Of(string fault, int times, IReadOnlyCollection<int> answered, int receipted, IReadOnlyList<double> found)
    {
        var counts = found.GroupBy(value => (int)value).ToDictionary(group => group.Key, group => group.Count());
        return new FaultRow(
            fault, times, answered.Count, receipted, answered.Count(counts.ContainsKey), answered.Count(value => !counts.ContainsKey(value)),
            counts.Values.Count(count => count > 1));
    }
}

/// <summary>
/// The rows of the table that closes a run of all tests. One file a fault, so that a test that runs again replaces its row.
/// </summary>
internal static class FaultTable
{
    /// <summary>Adds a row, and shows it with the test.</summary>
    public static void Add(FaultRow row)
    {
        var line = string.Create(
            CultureInfo.InvariantCulture,
            $"agent, {row.Fault}|{row.Times}|{row.Sent}|{row.Receipted}|{row.Found}|{row.Lost}|{row.Doubled}");
        TestContext.Current.TestOutputHelper?.WriteLine(line);
        var folder = Path.Combine(Repository.Root, "TestResults", "faults");
        Directory.CreateDirectory(folder);
        var name = string.Concat(row.Fault.Select(c => char.IsAsciiLetterOrDigit(c) ? char.ToLowerInvariant(c) : '-'));
        File.WriteAllText(Path.Combine(folder, $"agent-{name}.txt"), line + "\n");
    }
}
