using FleetLight.Contracts;
using FleetLight.Contracts.Facts;

namespace FleetLight.FieldAgent.Tests.Agents;

/// <summary>Readings that can be told apart by their values.</summary>
internal static class Readings
{
    public static ReadingTaken Of(string circuit, int value) => new()
    {
        SiteId = "s1",
        CircuitId = circuit,
        Place = ReadingPlaceKind.Driver,
        Quantity = ReadingQuantity.VoltsDc,
        Value = value,
    };
}
