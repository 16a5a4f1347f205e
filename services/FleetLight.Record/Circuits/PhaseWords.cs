using FleetLight.Contracts;
using FleetLight.Record.Files;

namespace FleetLight.Record.Circuits;

/// <summary>What is said to be missing for the next phase of a circuit, in one place for whoever says it and whoever looks for it.</summary>
internal static class PhaseWords
{
    public const string Design = "The design of the circuit.";

    public const string DriverConnected = "The driver is connected.";

    public const string Energised = "The circuit is energised.";

    public const string ReadingDue = "A reading of volts or milliamps within what it should read.";

    public const string HandedOver = "The circuit is handed over.";

    public static string CableOfRun(string cableId, string runId) => $"Cable {cableId} of run {runId} is pulled.";

    public static string SomeCableOfRun(string runId) => $"A cable for run {runId} is pulled, with a core that carries this circuit.";

    public static string FittingFixed(string fittingId) => $"Fitting {fittingId} is fixed.";

    public static string TestMeets(TestKind kind) => $"The test of {Words.Said(kind)} on the mains side meets its value.";

    /// <summary>Whether it speaks of a cable.</summary>
    public static bool IsOfCable(string text) =>
        text.StartsWith("Cable ", StringComparison.Ordinal) || text.StartsWith("A cable ", StringComparison.Ordinal);
}
