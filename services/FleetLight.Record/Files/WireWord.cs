using System.Collections.Frozen;

namespace FleetLight.Record.Files;

/// <summary>Words of the electrics as words of the contract and back: those of the same name. A test holds that none is missing.</summary>
public static class WireWord
{
    /// <summary>The word of the same name.</summary>
    public static TTo Of<TFrom, TTo>(TFrom word)
        where TFrom : struct, Enum
        where TTo : struct, Enum => Words<TFrom, TTo>.ByWord[word];

    private static class Words<TFrom, TTo>
        where TFrom : struct, Enum
        where TTo : struct, Enum
    {
        public static FrozenDictionary<TFrom, TTo> ByWord { get; } = Enum.GetValues<TFrom>()
            .Where(word => Enum.IsDefined(typeof(TTo), word.ToString()))
            .ToFrozenDictionary(word => word, word => Enum.Parse<TTo>(word.ToString()));
    }
}
