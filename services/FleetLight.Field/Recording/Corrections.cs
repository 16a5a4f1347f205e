using System.Text.Json;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;

namespace FleetLight.Field.Recording;

/// <summary>Makes corrections of facts that were recorded. Pure.</summary>
public static class Corrections
{
    /// <summary>The fact counts for nothing any more.</summary>
    public static FactCorrected TakeBack(string siteId, RecordedFact target, string reason) => Of(siteId, target, reason, CorrectionAction.Withdraw, null);

    /// <summary>Other data counts in the fact's place.</summary>
    public static FactCorrected Replace(string siteId, RecordedFact target, IFact instead, string reason)
    {
        ArgumentNullException.ThrowIfNull(instead);
        return Of(siteId, target, reason, CorrectionAction.Replace, JsonSerializer.SerializeToElement(instead, instead.GetType(), WireJson.Strict));
    }

    private static FactCorrected Of(string siteId, RecordedFact target, string reason, CorrectionAction action, JsonElement? replacement) => new()
    {
        SiteId = siteId,
        TargetSource = target.Of.Source,
        TargetId = target.Of.Id,
        TargetType = FactTypes.NameOf(target.Data.GetType()),
        Action = action,
        Reason = reason,
        Replacement = replacement,
    };
}
