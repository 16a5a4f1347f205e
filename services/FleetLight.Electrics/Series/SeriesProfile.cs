using System.Runtime.CompilerServices;

namespace FleetLight.Electrics;

/// <summary>
/// Volts of every fitting and between the cores at every box of a sound loop, with their first-order uncertainty, in
/// time that grows with the number of parts: what lies beyond a node is summed from the far ends towards the driver.
/// </summary>
internal sealed class SeriesProfile
{
    private readonly LoopBuilt built;
    private readonly double amps;
    private readonly double[] ampsBy;
    private readonly bool isDriverAlone;
    private readonly double ampsByPower;
    private readonly double ampsByLength;
    private readonly Sums[] beyond;

    /// <param name="plan">The circuit.</param>
    /// <param name="built">The loop without changes.</param>
    /// <param name="amps">Its current, A.</param>
    /// <param name="milliampsBy">Change of the current by one standard uncertainty of each input, mA.</param>
    public SeriesProfile(SeriesPlan plan, LoopBuilt built, double amps, ReadOnlySpan<double> milliampsBy)
    {
        this.built = built;
        this.amps = amps;
        ampsBy = new double[milliampsBy.Length];
        isDriverAlone = true;
        for (var k = 0; k < ampsBy.Length; k++)
        {
            ampsBy[k] = milliampsBy[k] / 1000;
            if (ampsBy[k] == 0 || k == Input.DriverOutput) continue;
            isDriverAlone = false;
            if (plan.Inputs[k].Source == UncertaintySource.FittingPower) ampsByPower += ampsBy[k] * ampsBy[k];
            if (plan.Inputs[k].Source == UncertaintySource.CableLength) ampsByLength += ampsBy[k] * ampsBy[k];
        }

        beyond = built.Layout.IsKnown ? Beyond(plan.Model) : [];
    }

    /// <summary>Volts across a fitting.</summary>
    public Estimate Fitting(int index)
    {
        var sums = default(Sums);
        AddString(ref sums, built.Parts[index]);
        return Close(sums);
    }

    /// <summary>Volts between the cores at a position of the layout.</summary>
    public Estimate Box(int position) => Close(beyond[position]);

    private Sums[] Beyond(CircuitModel model)
    {
        var sums = new Sums[built.Layout.Count];
        foreach (var part in built.Parts)
        {
            ref var own = ref sums[part.Position];
            AddString(ref own, part);
            AddCable(ref own, part.Tail, part.TailOhms, -1);
        }

        var runs = new int[sums.Length];
        for (var r = 0; r < model.Runs.Length; r++) runs[built.Layout.RunPosition[r]] = r;
        for (var at = sums.Length - 1; at > 0; at--)
        {
            ref var up = ref sums[built.Layout.Parent[at]];
            up.Add(sums[at]);
            AddCable(ref up, built.Cables.Cables[runs[at]], built.RunOhms[runs[at]], Input.OfRun(model, runs[at]));
        }

        return sums;
    }

    private void AddString(ref Sums sums, in LoopPart part)
    {
        var volts = part.VoltsAt(amps);
        var byPower = volts * part.Relative;
        sums.Volts += volts;
        sums.Slope += part.SlopeAt(amps);
        sums.Power.Add(byPower);
        sums.PowerWithAmps += byPower * ampsBy[part.Input];
        sums.FittingTemperature += volts * built.RelativeTemperature;
    }

    private void AddCable(ref Sums sums, in Cable cable, double ohms, int lengthInput)
    {
        sums.Volts += amps * ohms;
        sums.Slope += ohms;
        sums.Conductor += amps * cable.ByConductor;
        sums.Temperature[cable.TemperatureGroup] += amps * cable.ByTemperature;
        if (lengthInput < 0) return;
        sums.Length.Add(amps * cable.ByLength);
        sums.LengthWithAmps += amps * cable.ByLength * ampsBy[lengthInput];
    }

    private Estimate Close(in Sums sums)
    {
        var budget = new BudgetBuilder();
        budget.Rectangular(UncertaintySource.DriverOutput, sums.Slope * ampsBy[Input.DriverOutput]);
        budget.Normal(
            UncertaintySource.FittingTemperature,
            sums.FittingTemperature + (sums.Slope * ampsBy[Input.FittingTemperature]));
        budget.Rectangular(
            UncertaintySource.ConductorResistance, sums.Conductor + (sums.Slope * ampsBy[Input.Conductor]));
        for (var i = 0; i < Cable.TemperatureGroups; i++)
        {
            budget.Normal(
                UncertaintySource.ConductorTemperature,
                sums.Temperature[i] + (sums.Slope * ampsBy[Input.Temperature + i]));
        }

        if (isDriverAlone)
        {
            budget.Rectangular(UncertaintySource.FittingPower, sums.Power);
            budget.Rectangular(UncertaintySource.CableLength, sums.Length);
        }
        else
        {
            // At the driver's limit every part moves the current, and with it the volts of all others.
            var square = sums.Slope * sums.Slope;
            var power = sums.Power.Variance + (2 * sums.Slope * sums.PowerWithAmps) + (square * ampsByPower);
            var length = sums.Length.Variance + (2 * sums.Slope * sums.LengthWithAmps) + (square * ampsByLength);
            budget.Normal(UncertaintySource.FittingPower, Math.Sqrt(Math.Max(0, power)));
            budget.Normal(UncertaintySource.CableLength, Math.Sqrt(Math.Max(0, length)));
        }

        return budget.Close(sums.Volts);
    }

    // Volts and how they depend on the inputs at a fixed current, summed over parts.
    private struct Sums
    {
        public double Volts;
        public double Slope;
        public double FittingTemperature;
        public double Conductor;
        public double PowerWithAmps;
        public double LengthWithAmps;
        public ByGroup Temperature;
        public RectangularSum Power;
        public RectangularSum Length;

        public void Add(in Sums other)
        {
            Volts += other.Volts;
            Slope += other.Slope;
            FittingTemperature += other.FittingTemperature;
            Conductor += other.Conductor;
            PowerWithAmps += other.PowerWithAmps;
            LengthWithAmps += other.LengthWithAmps;
            for (var i = 0; i < Cable.TemperatureGroups; i++) Temperature[i] += other.Temperature[i];
            Power.Add(other.Power);
            Length.Add(other.Length);
        }
    }

    [InlineArray(Cable.TemperatureGroups)]
    private struct ByGroup
    {
        private double first;
    }
}
