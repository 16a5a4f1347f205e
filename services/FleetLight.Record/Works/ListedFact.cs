using System.Text.Json;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Corrections;
using FleetLight.Record.Files;

namespace FleetLight.Record.Works;

/// <summary>Shows a fact as recorded, with what is left of it.</summary>
public static class ListedFact
{
    /// <summary>The fact as it is listed.</summary>
    /// <param name="fact">The fact.</param>
    /// <param name="target">The fact that it corrects, where it is a correction and that one is known; the fact itself else.</param>
    /// <param name="corrections">All corrections of the target, in any order.</param>
    public static FactView Of(RecordedFact fact, RecordedFact? target, IReadOnlyCollection<RecordedFact> corrections)
    {
        ArgumentNullException.ThrowIfNull(fact);
        var type = FactTypes.NameOf(fact.Data.GetType());
        EffectiveFact? left = target is null ? null : EffectiveFacts.Apply(target, corrections, new List<string>());
        var isCorrection = fact.Data is FactCorrected;
        return new FactView
        {
            Fact = FactKey.Of(fact.Of),
            Source = fact.Of.Source,
            Id = fact.Of.Id,
            RunningNumber = fact.Of.RunningNumber,
            Type = type,
            SchemaVersion = VersionOf(type),
            SiteId = fact.Data.SiteId,
            HappenedAt = fact.Of.HappenedAt,
            DeviceTime = fact.Of.DeviceTime,
            ClockErrorSeconds = fact.Of.ClockErrorSeconds,
            TimeDoubt = fact.Of.TimeDoubt,
            RecordedAt = fact.Of.RecordedAt,
            Digest = fact.Of.Digest,
            MendedBy = fact.Of.MendedBy,
            Things = Routing.Touches(fact.Data),
            Data = JsonSerializer.SerializeToElement(fact.Data, fact.Data.GetType(), WireJson.Lenient),
            Standing = isCorrection ? OfCorrection(fact, left) : OfFact(left!.Value),
            CorrectedBy = isCorrection || left?.CorrectedBy is not { } by ? null : Correction(by, left.Value.CountingData),
            Corrects = isCorrection ? EffectiveFacts.TargetOf(fact) : null,
        };
    }

    private static FactStanding OfFact(EffectiveFact left) => left switch
    {
        { CorrectedBy: null } => FactStanding.Counts,
        { CountingData: null } => FactStanding.Withdrawn,
        _ => FactStanding.Replaced,
    };

    private static FactStanding OfCorrection(RecordedFact correction, EffectiveFact? left)
    {
        if (left is null) return FactStanding.Waiting;
        return left.Value.CorrectedBy is { } by && FactKey.Of(by.Of) == FactKey.Of(correction.Of) ? FactStanding.Counts : FactStanding.Overruled;
    }

    private static CorrectedBy Correction(RecordedFact by, IFact? counts)
    {
        var correction = (FactCorrected)by.Data;
        return new CorrectedBy
        {
            Fact = FactKey.Of(by.Of),
            Action = correction.Action,
            Reason = correction.Reason,
            HappenedAt = by.Of.HappenedAt,
            RecordedAt = by.Of.RecordedAt,
            Data = counts is null ? null : JsonSerializer.SerializeToElement(counts, counts.GetType(), WireJson.Lenient),
        };
    }

    // A type ends with its version: fleetlight.duct.laid.v1.
    private static int VersionOf(string type)
    {
        var at = type.LastIndexOf(".v", StringComparison.Ordinal);
        return at >= 0 && int.TryParse(type.AsSpan(at + 2), out var version) ? version : 1;
    }
}
