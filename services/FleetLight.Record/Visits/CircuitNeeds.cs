using FleetLight.Contracts;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Contracts.Views;
using FleetLight.Record.Files;

namespace FleetLight.Record.Visits;

/// <summary>What findings on circuits ask for.</summary>
internal static class CircuitNeeds
{
    /// <summary>What the explanations and the next readings of the circuit ask for.</summary>
    public static void Explained(Finding finding, TakeAlongList list)
    {
        Meter(finding.Reason, list);
        Prover(list);
        var circuits = finding.CircuitIds.Count > 0 ? finding.CircuitIds : [finding.Subject.Id];
        foreach (var id in circuits) ExplanationNeeds.Add(id, list);
    }

    /// <summary>A fitting that stays dark: one of the rated watts, and what the explanations ask for.</summary>
    public static void DarkFitting(Finding finding, TakeAlongList list)
    {
        Fittings(finding.Subject.Id, [finding.Cause], 1, finding.Reason, list);
        Explained(finding, list);
    }

    /// <summary>The fitting that the design has in the place of another.</summary>
    public static void DesignedFitting(Finding finding, TakeAlongList list)
    {
        Fittings(finding.Subject.Id, [finding.Cause], 1, finding.Reason, list);
        Prover(list);
    }

    /// <summary>A driver that the design has to name first.</summary>
    public static void AnotherDriver(Finding finding, TakeAlongList list)
    {
        list.Mind(TakeAlongCautions.Mains);
        Meter(finding.Reason, list);
        Prover(list);
        list.Open($"Which driver it is to be, the design has to say first: {finding.Remedy}");
    }

    /// <summary>What tests a circuit dead.</summary>
    public static void DeadTests(Finding finding, TakeAlongList list)
    {
        list.Mind(TakeAlongCautions.Mains);
        Tester(finding.Reason, list);
        Meter(finding.Reason, list);
        Prover(list);
    }

    /// <summary>What finds a fault of the insulation.</summary>
    public static void Insulation(Finding finding, TakeAlongList list)
    {
        DeadTests(finding, list);
        ExplanationNeeds.Add(finding.Subject.Id, list);
    }

    /// <summary>A meter for a reading.</summary>
    public static void Reading(Finding finding, TakeAlongList list)
    {
        Meter(finding.Reason, list);
        Prover(list);
    }

    /// <summary>What puts the polarity right.</summary>
    public static void Polarity(Finding finding, TakeAlongList list)
    {
        list.Mind(TakeAlongCautions.Mains);
        Reading(finding, list);
        Sleeves(finding.Subject.Id, finding.Reason, list);
    }

    /// <summary>What encloses live parts.</summary>
    public static void Enclosing(Finding finding, TakeAlongList list)
    {
        Prover(list);
        list.Open($"What is open to touch is seen on site: {finding.Remedy}");
    }

    /// <summary>A residual current device and what tests it.</summary>
    public static void ResidualCurrentDevice(Finding finding, TakeAlongList list)
    {
        list.Mind(TakeAlongCautions.Mains);
        list.Add(
            new(TakeAlongItem.ResidualCurrentDevice, "residual current device of the same type and rating", finding.Subject.Id) { Pieces = 1, Assumed = "One for each circuit." },
            finding.Reason);
        list.Tool(TakeAlongItem.ResidualCurrentTester, "tester of residual current devices", finding.Reason);
        Prover(list);
    }

    /// <summary>A multimeter; who takes it along reads energised circuits.</summary>
    public static void Meter(string says, TakeAlongList list)
    {
        list.Mind(TakeAlongCautions.Energised);
        list.Tool(TakeAlongItem.Meter, "meter for volts DC, mA and Ω, with leads", says);
    }

    /// <summary>A tester of insulation.</summary>
    public static void Tester(string says, TakeAlongList list) => list.Tool(TakeAlongItem.InsulationTester, "tester of insulation resistance", says);

    /// <summary>What proves a circuit dead.</summary>
    public static void Prover(TakeAlongList list) =>
        list.Tool(TakeAlongItem.VoltageProver, "voltage prover and what proves it", "Prove dead before you touch.");

    /// <summary>Sleeves for two cores at two ends.</summary>
    public static void Sleeves(string circuitId, string says, TakeAlongList list) => list.Add(
        new(TakeAlongItem.PolaritySleeve, "polarity sleeve", circuitId) { Pieces = 4, Assumed = "Two cores, both ends." }, says);

    /// <summary>Fittings as designed: so many of each rating among those that may be at fault.</summary>
    public static void Fittings(string circuitId, IEnumerable<string> fittingIds, int atFault, string says, TakeAlongList list)
    {
        var circuit = list.Ground.Circuits.GetValueOrDefault(circuitId);
        var design = list.Ground.Designs.GetValueOrDefault(circuitId);
        FittingView[] named = [.. (circuit?.Fittings ?? []).Where(fitting => fittingIds.Contains(fitting.FittingId, StringComparer.Ordinal))];
        foreach (var rating in named.GroupBy(fitting => fitting.DesignedWatts ?? fitting.RatedWatts))
        {
            var ids = rating.Select(fitting => fitting.FittingId).ToArray();
            var pieces = Math.Min(atFault, ids.Length);
            list.Add(
                new(TakeAlongItem.Fitting, $"fitting of {Words.Of(rating.Key, "W")}{Drive(design, ids[0])}", $"{circuitId}/{Words.Plain(rating.Key)}")
                {
                    Pieces = pieces,
                    RatedWatts = rating.Key,
                    Assumed = ids.Length > pieces ? $"As many of them are at fault as the explanation says, of {string.Join(", ", ids)}." : null,
                },
                says);
        }

        if (named.Length == 0) list.Open($"Which fitting of circuit {circuitId} it is, is not recorded.");
    }

    private static string Drive(CircuitInput? design, string fittingId)
    {
        if (design is null) return "";
        var fitting = design.Fittings.FirstOrDefault(one => one.FittingId == fittingId);
        var kind = fitting?.Description is { } description ? $" ({description})" : "";
        return design.Drive == DriveKind.ConstantCurrent
            ? $"{kind} for {Words.Of(fitting?.StatedMilliamps ?? design.Driver.RatedMilliamps, "mA")}"
            : $"{kind} for {Words.Of(design.Driver.RatedVolts, "V")} DC";
    }
}
