using FleetLight.Record.Circuits;

namespace FleetLight.Record.Works;

/// <summary>The readings that count, with the window and the history of each circuit.</summary>
internal sealed class MemoryReadings
{
    private readonly Dictionary<string, string> circuitOf = new(StringComparer.Ordinal);
    private readonly Dictionary<string, Dictionary<string, ReadingEntry>> byCircuit = new(StringComparer.Ordinal);
    private readonly Dictionary<string, ReadingWindow> windows = new(StringComparer.Ordinal);
    private readonly Dictionary<string, ReadingHistory> histories = new(StringComparer.Ordinal);

    public void Clear()
    {
        circuitOf.Clear();
        byCircuit.Clear();
        windows.Clear();
        histories.Clear();
    }

    public ReadingWindow WindowOf(string circuit) => windows.GetValueOrDefault(circuit) ?? ReadingWindow.Empty;

    public ReadingHistory HistoryOf(string circuit) => histories.GetValueOrDefault(circuit) ?? ReadingHistory.Empty;

    public IEnumerable<ReadingEntry> Counting(string circuit) =>
        byCircuit.TryGetValue(circuit, out var entries) ? entries.Values.OrderDescending(ReadingEntry.InOrder) : [];

    public void Add(string key, ReadingEntry entry)
    {
        circuitOf[key] = entry.CircuitId;
        if (!byCircuit.TryGetValue(entry.CircuitId, out var entries))
            byCircuit[entry.CircuitId] = entries = new(StringComparer.Ordinal);
        entries[key] = entry;
        windows[entry.CircuitId] = WindowOf(entry.CircuitId).With(entry);
        histories[entry.CircuitId] = HistoryOf(entry.CircuitId).With(entry);
    }

    /// <summary>Takes a reading away.</summary>
    /// <returns>The circuit that it was of; none where it did not count.</returns>
    public string? Remove(string key)
    {
        if (!circuitOf.Remove(key, out var circuit)) return null;
        byCircuit[circuit].Remove(key);
        var window = WindowOf(circuit).Without(key);
        windows[circuit] = window.NeedsRefill ? window.Refill(Counting(circuit).Take(ReadingWindow.Size + 1)) : window;
        histories[circuit] = ReadingHistory.Of(Counting(circuit));
        return circuit;
    }
}
