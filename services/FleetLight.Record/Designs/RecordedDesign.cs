using FleetLight.Contracts.Facts;
using FleetLight.Record.Corrections;
using FleetLight.Record.Files;

namespace FleetLight.Record.Designs;

/// <summary>The design of a circuit as its facts say.</summary>
public static class RecordedDesign
{
    /// <summary>The newest design that counts; none where none does.</summary>
    /// <param name="file">The file of the circuit.</param>
    public static CircuitDesigned? Of(ThingFile file) => ThingHistory.Of(file, []).Newest<CircuitDesigned>()?.Data;
}
