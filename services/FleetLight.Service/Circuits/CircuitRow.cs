using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;

namespace FleetLight.Service.Circuits;

/// <summary>
/// The state of a circuit as it is kept: its newest readings, and what is listed and found. It is small, because it is
/// written again with every reading; what follows from the other facts stands beside it in <see cref="StampedBasis"/>.
/// What is shown is judged from both whenever it is read.
/// </summary>
/// <param name="Line">As it stands in a list.</param>
/// <param name="BasisStamp">Stamp of the basis on which it was judged.</param>
/// <param name="Window">Its newest readings.</param>
/// <param name="Judged">What was made of them.</param>
/// <param name="Findings">What the rules found.</param>
public sealed record CircuitRow(CircuitLine Line, string BasisStamp, ReadingWindow Window, KeptJudgements Judged, IReadOnlyList<Finding> Findings)
{
    /// <summary>What is kept of a circuit with that judged state.</summary>
    public static CircuitRow Of(CircuitView view, StampedBasis basis, ReadingWindow window) =>
        new(CircuitLines.Of(basis.Basis, view), basis.Stamp, window, KeptJudgements.Of(basis.Basis, view), view.Findings);
}
