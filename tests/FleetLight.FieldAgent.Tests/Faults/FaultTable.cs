using System.Collections.Concurrent;
using System.Globalization;

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

/// <summary>The rows of the faults that ran, printed when the last of them has.</summary>
public sealed class FaultTable : IDisposable
{
    private readonly ConcurrentQueue<FaultRow> rows = [];

    internal void Add(FaultRow row) => rows.Enqueue(row);

    /// <summary>Prints the table.</summary>
    public void Dispose()
    {
        if (rows.IsEmpty) return;
        var lines = new List<string> { $"{"fault",-46} {"tried",6} {"sent",6} {"receipted",10} {"found",6} {"lost",5} {"doubled",8}" };
        lines.AddRange(rows.OrderBy(row => row.Fault, StringComparer.Ordinal).Select(row => string.Create(
            CultureInfo.InvariantCulture,
            $"{row.Fault,-46} {row.Times,6} {row.Sent,6} {row.Receipted,10} {row.Found,6} {row.Lost,5} {row.Doubled,8}")));
        Console.WriteLine(string.Join('\n', lines));
    }
}
