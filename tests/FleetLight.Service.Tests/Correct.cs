using System.Text.Json;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;
using FleetLight.Testing.Service;

namespace FleetLight.Service.Tests;

/// <summary>Corrections of facts, by whoever sends them.</summary>
internal static class Correct
{
    /// <summary>Withdraws the sender's own fact of that id.</summary>
    public static FactCorrected Withdraw(string id, IFact target) => new()
    {
        SiteId = target.SiteId,
        TargetId = id,
        TargetType = FactTypes.NameOf(target.GetType()),
        Action = CorrectionAction.Withdraw,
        Reason = "It was not so.",
    };

    /// <summary>Withdraws a fact of any device.</summary>
    public static FactCorrected Withdraw(Device device, SentEvent sent, IFact target) =>
        Withdraw(sent.Id, target) with { TargetSource = device.Source };

    /// <summary>Puts other data in the place of the sender's own fact of that id.</summary>
    public static FactCorrected Replace(string id, IFact by) => new()
    {
        SiteId = by.SiteId,
        TargetId = id,
        TargetType = FactTypes.NameOf(by.GetType()),
        Action = CorrectionAction.Replace,
        Reason = "It was otherwise.",
        Replacement = JsonSerializer.SerializeToElement(by, by.GetType(), WireJson.Strict),
    };
}
