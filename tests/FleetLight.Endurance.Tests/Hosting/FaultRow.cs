using System.Globalization;

namespace FleetLight.Endurance.Tests.Hosting;

/// <summary>What became of facts under one kind of fault, kept in TestResults/faults for the table at the end of a run.</summary>
/// <param name="Fault">The fault.</param>
/// <param name="Tried">How often it was tried.</param>
/// <param name="Sent">Facts sent.</param>
/// <param name="Receipted">Facts with a receipt.</param>
/// <param name="Found">Facts found afterwards.</param>
/// <param name="Lost">Facts with a receipt that are not there.</param>
/// <param name="Doubled">Facts that are there more than once.</param>
internal sealed record FaultRow(string Fault, long Tried, long Sent, long Receipted, long Found, long Lost, long Doubled)
{
    /// <summary>Keeps the row under a name, in place of an earlier run's.</summary>
    public void Keep(string name)
    {
        string folder = Repository.At("TestResults/faults");
        Directory.CreateDirectory(folder);
        File.WriteAllText(Path.Combine(folder, $"{name}.txt"), string.Create(
            CultureInfo.InvariantCulture, $"{Fault}|{Tried}|{Sent}|{Receipted}|{Found}|{Lost}|{Doubled}\n"));
    }
}
