using System.Text.Json.Nodes;

namespace FleetLight.Field.Recording.Facts;

/// <summary>
/// The colours of cores by their number. HD 308 S2:2001, tables 1 and 2 (flexible and fixed cables, without and with a green-and-yellow
/// core); what is printed on a cable goes before it.
/// </summary>
public static class CoreSets
{
    private static readonly string[][] Without =
    [["brown"], ["blue", "brown"], ["brown", "black", "grey"], ["blue", "brown", "black", "grey"], ["blue", "brown", "black", "grey", "black 2"]];

    private static readonly string[][] With =
    [[], [], ["green-yellow", "blue", "brown"], ["green-yellow", "brown", "black", "grey"], ["green-yellow", "blue", "brown", "black", "grey"]];

    /// <summary>What most cables on site have.</summary>
    public static IReadOnlyList<(int Count, bool Earth, string Says)> Usual { get; } =
    [
        (2, false, "2 cores"), (3, true, "3 cores, one green-yellow"), (3, false, "3 cores"), (4, false, "4 cores"), (5, true, "5 cores, one green-yellow"),
    ];

    /// <summary>The cores of such a cable: the first two carry the circuit, a green-and-yellow one protects, the rest are spare.</summary>
    /// <param name="count">Number of cores, 1 to 5.</param>
    /// <param name="circuitId">The circuit; all are spare where absent.</param>
    /// <param name="earth">Whether one is green and yellow.</param>
    public static JsonArray Make(int count, string? circuitId, bool earth = false)
    {
        var names = (earth ? With : Without)[Math.Clamp(count, 1, 5) - 1];
        var carrying = 0;
        return [.. names.Select(name => Core(name, name == "green-yellow" ? "protective-earth" : circuitId is not null && carrying++ < 2 ? "circuit" : "spare", circuitId))];
    }

    private static JsonObject Core(string name, string use, string? circuitId)
    {
        var core = new JsonObject { ["core"] = name, ["use"] = use };
        if (use == "circuit") core["circuitId"] = circuitId;
        return core;
    }
}
