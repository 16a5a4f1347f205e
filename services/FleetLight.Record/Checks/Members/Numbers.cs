using FleetLight.Contracts.Facts;
using FleetLight.Record.Files;

namespace FleetLight.Record.Checks.Members;

/// <summary>A number with its unit and range.</summary>
internal sealed class NumberMember<T>(string name, Func<T, double?> get, QuantityAttribute quantity) : Member<T>(name)
{
    private readonly NumberRange range = new(quantity);

    /// <inheritdoc/>
    public override void Check(T owner, CheckRun run)
    {
        if (get(owner) is { } value) range.Check(Name, value, run);
    }
}

/// <summary>A list of numbers, each with the same unit and range.</summary>
internal sealed class NumberListMember<T>(
    string name, Func<T, double[]?> get, bool mayMiss, ListAttribute list, QuantityAttribute quantity) : Member<T>(name)
{
    private readonly NumberRange range = new(quantity);

    /// <inheritdoc/>
    public override void Check(T owner, CheckRun run)
    {
        if (get(owner) is not { } values)
        {
            if (!mayMiss) Missing(run);
            return;
        }

        Counts.Check(Name, values.Length, list, run);
        for (var i = 0; i < values.Length; i++) range.Check($"{Name}[{i}]", values[i], run);
    }
}

/// <summary>The range of a number, and what is said of one outside it.</summary>
internal sealed class NumberRange(QuantityAttribute quantity)
{
    // Units as people write them; the contract keeps to ASCII.
    private readonly string unit = quantity.Unit switch
    {
        "1" => "",
        "mm2" => " mm²",
        "ohm" => " Ω",
        "Mohm" => " MΩ",
        "deg" => "°",
        "degC" => " °C",
        "V, mA or ohm" => " (V, mA or Ω as its quantity says)",
        "V, mA, ohm or Mohm" => " (V, mA, Ω or MΩ as its quantity says)",
        var other => " " + other,
    };

    public void Check(string name, double value, CheckRun run)
    {
        if (value >= quantity.Least && value <= quantity.Most) return;
        var range = $"{Words.Plain(quantity.Least)} to {Words.Plain(quantity.Most)}{unit}";
        if (double.IsFinite(value))
        {
            run.OutOfRange(
                name,
                $"{name} is {Words.Plain(value)}; {range} is accepted.",
                $"Check the unit and the decimal point, then give {name} within {range}.");
        }
        else
        {
            run.Invalid(name, $"{name} is not a finite number.", $"Give {name} within {range}.");
        }
    }
}

/// <summary>A word out of a list of words.</summary>
internal sealed class WordMember<T, TWord>(string name, Func<T, TWord> get) : Member<T>(name)
    where TWord : struct, Enum
{
    /// <inheritdoc/>
    public override void Check(T owner, CheckRun run)
    {
        if (!Enum.IsDefined(get(owner))) WordMember.Unknown<TWord>(Name, run);
    }
}

/// <summary>A word out of a list of words that may be absent.</summary>
internal sealed class MaybeWordMember<T, TWord>(string name, Func<T, TWord?> get) : Member<T>(name)
    where TWord : struct, Enum
{
    /// <inheritdoc/>
    public override void Check(T owner, CheckRun run)
    {
        if (get(owner) is { } word && !Enum.IsDefined(word)) WordMember.Unknown<TWord>(Name, run);
    }
}

/// <summary>What is said of a word that is not in the list.</summary>
internal static class WordMember
{
    public static void Unknown<TWord>(string name, CheckRun run)
        where TWord : struct, Enum =>
        run.Invalid(
            name,
            $"{name} is not a word of its list.",
            $"Give one of {string.Join(", ", Enum.GetValues<TWord>().Select(word => Words.Of(word)))}.");
}
