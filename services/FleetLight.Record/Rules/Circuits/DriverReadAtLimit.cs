using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Electrics;
using FleetLight.Record.Circuits;
using FleetLight.Record.Files;

namespace FleetLight.Record.Rules.Circuits;

/// <summary>
/// A constant-current driver that reads near its greatest voltage though the design leaves room: the other half of
/// <see cref="DriverAtLimit"/>, under the same id.
/// </summary>
public static class DriverReadAtLimit
{
    /// <summary>
    /// Adds what it finds on the readings of the latest visit, where the rule found nothing by the design.
    /// </summary>
    public static void Find(Visit visit, ICollection<Finding> found)
    {
        var basis = visit.Basis;
        if (basis.Drive != DriveKind.ConstantCurrent || basis.Model?.Driver.MostVolts is not { } most) return;
        foreach (var finding in basis.Findings)
            if (finding.Rule == DriverAtLimit.Rule.Id) return;
        foreach (var reading in visit.Newest)
        {
            var view = reading.View;
            if (view.Place != ReadingPlaceKind.Driver || view.Quantity != ReadingQuantity.VoltsDc) continue;
            if (100 * view.Value < DriverWindow.NearLimitPercent * most) continue;
            found.Add(DriverAtLimit.Rule.On(
                visit.Subject,
                $"The driver reads {Words.Of(view.Value, "V")} of the {Words.Of(most, "V")} it can give.",
                [visit.Subject.Id],
                [view.Fact]));
            return;
        }
    }
}
