using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;
using FleetLight.Service.Works;

namespace FleetLight.Service.Circuits;

/// <summary>
/// The state of a circuit as it is kept: its newest readings, and what is listed and found. It is small, because it is
/// written again with every reading; what follows from the other facts stands beside it in <see cref="StampedBasis"/>.
/// What is shown is judged from both whenever it is read.
/// </summary>
/// <param name="Line">As it stands in a list.</param>
/// <param name="BasisStamp">Stamp of the basis on which it was judged.</param>
/// <param name="Recent">Its readings, the newest and those over months.</param>
/// <param name="Judged">What was made of the newest.</param>
/// <param name="Findings">What the rules found.</param>
public sealed record CircuitRow(CircuitLine Line, string BasisStamp, RecentReadings Recent, KeptJudgements Judged, IReadOnlyList<Finding> Findings)
{
    /// <summary>What is kept of a circuit with that judged state.</summary>
    public static CircuitRow Of(CircuitView view, StampedBasis basis, RecentReadings recent) =>
        new(CircuitLines.Of(basis.Basis, view), basis.Stamp, recent, KeptJudgements.Of(basis.Basis, view), view.Findings);
}
