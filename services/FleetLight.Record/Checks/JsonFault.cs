using System.Text.Json;
using FleetLight.Contracts.Wire;

namespace FleetLight.Record.Checks;

/// <summary>What is wrong with JSON that is no record of the contract, in words for whoever sent it.</summary>
/// <param name="Field">The member at fault as a path.</param>
/// <param name="Detail">What is wrong.</param>
/// <param name="Remedy">What to do about it.</param>
public sealed record JsonFault(string Field, string Detail, string Remedy)
{
    /// <summary>Reads it out of what the library says, whose own text ends in a trail of positions and names .NET types.</summary>
    /// <param name="bad">What the library says.</param>
    /// <param name="root">Where paths start; empty where they start at the members.</param>
    public static JsonFault Of(JsonException bad, string root)
    {
        var path = bad.Path is null or "$" ? root : (root + bad.Path[1..]).TrimStart('.');
        var missing = bad.Message.IndexOf("missing required", StringComparison.Ordinal);
        if (missing >= 0)
        {
            var names = bad.Message[(bad.Message.IndexOf(':', missing) + 1)..].Split('.')[0].Replace("'", "", StringComparison.Ordinal).Trim();
            return new($"{path}.{names.Split(',')[0].Trim()}".TrimStart('.'), $"These members are missing: {names}.", "Add them.");
        }

        if (bad.Message.StartsWith(WordConverter.Refusal, StringComparison.Ordinal))
            return new(path, "The value is none of the words taken here.", $"Use one of: {bad.Message[WordConverter.Refusal.Length..]}.");
        if (bad.Message.Contains("could not be mapped", StringComparison.Ordinal))
            return new(path, "The contract has no such member here.", "Check the spelling, or leave it out.");
        if (bad.Message.Contains("Duplicate", StringComparison.Ordinal))
            return new(path, "The member stands there twice.", "Send it once.");
        return new(path, "The value is not of the kind that the contract asks for.", "Look the member up in the contract and send that kind.");
    }
}
