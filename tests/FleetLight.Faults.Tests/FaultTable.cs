using System.Globalization;
using FleetLight.Faults.Tests.Load;

namespace FleetLight.Faults.Tests;

/// <summary>
/// The rows of the table that closes a run of all tests: fault, times tried, and what became of the facts. One file a
/// fault, so that a test that runs again replaces its row.
/// </summary>
internal static class FaultTable
{
    /// <summary>Adds a row, and shows it with the test.</summary>
    /// <param name="fault">What went wrong on purpose.</param>
    /// <param name="tried">How often.</param>
    /// <param name="account">What became of the facts.</param>
    public static void Add(string fault, int tried, Account account)
    {
        string row = string.Create(
            CultureInfo.InvariantCulture,
            $"{fault}|{tried}|{account.Sent}|{account.Receipted}|{account.Found}|{account.Lost}|{account.Doubled}");
        TestContext.Current.TestOutputHelper?.WriteLine(row);
        string folder = Path.Combine(Repository.Root, "TestResults", "faults");
        Directory.CreateDirectory(folder);
        string name = string.Concat(fault.Select(c => char.IsAsciiLetterOrDigit(c) ? char.ToLowerInvariant(c) : '-'));
        File.WriteAllText(Path.Combine(folder, $"service-{name}.txt"), row + "\n");
    }
}
