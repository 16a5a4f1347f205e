using System.Collections.Frozen;

namespace FleetLight.Service.Calculations.Mapping;

/// <summary>Words of the electrics as words of the contract: those of the same name. A test holds that none is missing.</summary>
internal static class WireWord<TFrom, TTo>
    where TFrom : struct, Enum
    where TTo : struct, Enum
{
    private static readonly FrozenDictionary<TFrom, TTo> Words = Enum.GetValues<TFrom>()
        .Where(word => Enum.IsDefined(typeof(TTo), word.ToString()))
        .ToFrozenDictionary(word => word, word => Enum.Parse<TTo>(word.ToString()));

    /// <summary>The word of the contract.</summary>
    public static TTo Of(TFrom word) => Words[word];
}
