using System.Runtime.InteropServices.JavaScript;
using System.Runtime.Versioning;
using System.Text.Json;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Calculations;

namespace FleetLight.Field.Measuring;

/// <summary>What runs in the worker beside the page: a question in, the answer out, both as the service's own calculation has them.</summary>
[SupportedOSPlatform("browser")]
public static partial class CauseWork
{
    /// <summary>The answer to a <see cref="NextMeasurementRequest"/>; nothing where it has none.</summary>
    [JSExport]
    public static string? Answer(string question)
    {
        var calculated = CalculateNextMeasurement.Answer(JsonSerializer.Deserialize<NextMeasurementRequest>(question, WireJson.Lenient)!);
        return calculated.Answer is { } answer ? JsonSerializer.Serialize(answer, WireJson.Lenient) : null;
    }
}
