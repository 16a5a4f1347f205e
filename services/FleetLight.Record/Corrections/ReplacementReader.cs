using System.Text.Json;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;

namespace FleetLight.Record.Corrections;

/// <summary>Reads the data that a correction puts in the place of a fact's own.</summary>
public static class ReplacementReader
{
    /// <summary>The data; none where it is not data of the type named, with the path of the member at fault.</summary>
    public static (IFact? Fact, string At) Read(FactCorrected correction)
    {
        if (correction.Replacement is not { } json || FactTypes.Find(correction.TargetType) is not { } type) return (
            null,
            "");
        if (type == typeof(FactCorrected)) return (null, "");
        try
        {
            return (json.Deserialize(type, WireJson.Strict) as IFact, "");
        }
        catch (JsonException e)
        {
            return (null, e.Path is ['$', .. var path] ? path : "");
        }
        catch (Exception e) when (e is NotSupportedException or InvalidOperationException)
        {
            // Whatever stands there is no JSON value of that type; the caller says so in plain words.
            return (null, "");
        }
    }
}
