using System.Text.Json;
using FleetLight.Contracts.Wire;

namespace FleetLight.Service.Works;

/// <summary>Tells whether two states are the same, by what is kept of them: records that hold lists compare by reference.</summary>
public static class Same
{
    /// <summary>Whether both are written as the same text.</summary>
    public static bool As<T>(T left, T right) =>
        JsonSerializer.SerializeToUtf8Bytes(left, WireJson.Lenient).AsSpan().SequenceEqual(JsonSerializer.SerializeToUtf8Bytes(right, WireJson.Lenient));
}
