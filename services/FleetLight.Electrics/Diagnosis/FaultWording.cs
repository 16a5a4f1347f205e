using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>Sentences for an installer.</summary>
internal static class FaultWording
{
    private const string Isolate = "Switch the driver off at the mains and prove it dead first. ";

    /// <summary>What is wrong and where.</summary>
    public static string What(
        Hypothesis fault, CircuitModel model, IReadOnlyList<string> fittings, IReadOnlyList<string> runs)
    {
        var series = model.Drive == DriveKind.ConstantCurrent;
        var fitting = Name("Fitting", "One of the fittings", fittings);
        var run = Name("Run", "One of the runs", runs);
        var figure = Plain.Figure(fault.Figure);
        return fault.Kind switch
        {
            FaultKind.AsDesigned => "The circuit is as designed; tolerances explain the readings.",
            FaultKind.FittingOfOtherWattage => fault.FreeFigure
                ? $"{fitting} takes about {figure} W where {Rated(fault, model)} W was designed."
                : $"{fitting} is a {figure} W one where {Rated(fault, model)} W was designed.",
            FaultKind.FittingShorted => $"{fitting} is shorted: the current passes it and it stays dark.",
            FaultKind.FittingMissing => series
                ? $"{fitting} is missing, its joint bridged."
                : $"{fitting} takes no power: missing, dead or not connected.",
            FaultKind.OneFittingTooMany => $"There is one fitting of {figure} W more than designed.",
            FaultKind.FittingReversed => fault.Bypassed || !series
                ? $"{fitting} is connected the wrong way round: it stays dark and may be destroyed."
                : $"{fitting} is connected the wrong way round and blocks the loop: all is dark, it may be destroyed.",
            FaultKind.OpenLoop => runs.Count == 0
                ? "The loop is broken: no current flows."
                : $"{run} is broken: all beyond it is dead.",
            FaultKind.WrongDriverOutput => series
                ? $"The driver gives {figure} mA where {Design(model.Driver.RatedMilliamps)} mA was designed."
                : $"The driver gives {figure} V where {Design(model.Driver.RatedVolts)} V was designed.",
            FaultKind.HighResistanceJoint => runs.Count == 0
                ? $"A joint or terminal in the loop has about {figure} Ω too much."
                : $"{run} has a joint or terminal with about {figure} Ω too much.",
            FaultKind.CableLonger or FaultKind.CableShorter => runs.Count == 0
                ? $"The cable is about {figure} times as long as recorded, or of another conductor area."
                : $"{run} is about {figure} times as long as recorded, or of another conductor area.",
            FaultKind.DriverAtLimit => "The driver is at the limit of its rating and no longer regulates.",
            FaultKind.ShortBetweenCores => Short(fault, model),
            FaultKind.DriverNoOutput => "The driver gives nothing: not fed, tripped or failed.",
            _ => "None of the faults known here explains the readings.",
        };
    }

    /// <summary>What to do about it, safely.</summary>
    public static string WhatToDo(FaultKind kind) => kind switch
    {
        FaultKind.AsDesigned => "Nothing needs doing for these readings.",
        FaultKind.FittingOfOtherWattage => "Read the fitting's label; correct the record or change the fitting.",
        FaultKind.FittingShorted => $"Look for the dark fitting. {Isolate}Then measure across it and change it.",
        FaultKind.FittingMissing => "Count the lit fittings against the design; look in the joint of the dark one.",
        FaultKind.OneFittingTooMany => "Count the fittings against the design.",
        FaultKind.FittingReversed => $"Look for the dark fitting. {Isolate}Then check the polarity at its joint.",
        FaultKind.OpenLoop => $"{Isolate}Then measure continuity from the driver, halving the stretch each time.",
        FaultKind.WrongDriverOutput => "Read the driver's label and its output setting; measure its output as loaded.",
        FaultKind.HighResistanceJoint => $"{Isolate}Then open and remake the suspect joints, easiest to reach first.",
        FaultKind.CableLonger or FaultKind.CableShorter =>
            $"{Isolate}Then measure the loop resistance and compare it with the recorded lengths and areas.",
        FaultKind.DriverAtLimit =>
            "Compare the load with the driver's label; take fittings off or fit a larger driver.",
        FaultKind.ShortBetweenCores => $"{Isolate}Then part the circuit at a box and measure insulation to both sides.",
        FaultKind.DriverNoOutput =>
            "Have the supply to the driver checked by a licensed person; then measure the output with the load off.",
        _ => "Measure at another place, and check the readings and the design that is recorded.",
    };

    private static string Design(double? figure) => Plain.Figure(figure ?? 0);

    private static string Rated(Hypothesis fault, CircuitModel model) =>
        Plain.Figure(model.Fittings[fault.Fitting].RatedWatts);

    private static string Short(Hypothesis fault, CircuitModel model)
    {
        if (model.Drive != DriveKind.ConstantCurrent) return "The two cores touch somewhere.";
        return fault.Figure > 0
            ? $"The two cores touch beyond fitting {model.Fittings[(int)fault.Figure - 1].Id}: all beyond is dark."
            : "The two cores touch before the first fitting: all stays dark.";
    }

    private static string Name(string one, string many, IReadOnlyList<string> ids) => ids.Count switch
    {
        0 => one,
        1 => $"{one} {ids[0]}",
        _ => $"{many} {string.Join(", ", ids)}",
    };
}
