namespace FleetLight.Electrics;

/// <summary>Solves the node equations of a network of conductances by eliminating one node after the other.</summary>
/// <remarks>
/// Eliminating a node turns the star of its connections into a mesh between its neighbours. Connections between nodes
/// and those to the other core (shunts) are kept apart, so nothing is ever subtracted: a run of next to no resistance
/// costs no digits. Shunts of constant-power loads are negative; that all pivots are positive is then what tells
/// whether the operating point is a stable one.
/// </remarks>
internal sealed class Conductances(Elimination steps, int nodes)
{
    private readonly double[] inverse = new double[steps.Order.Length];

    /// <summary>Conductance in each slot, S; after the elimination that at the moment its first end went.</summary>
    public double[] Between { get; } = new double[steps.Slots];

    /// <summary>
    /// Conductance from each node to the other core, S; that of node 0 afterwards is that of everything.
    /// </summary>
    public double[] Shunt { get; } = new double[nodes];

    /// <summary>One over the pivot of a step; 0 for a node that is cut off.</summary>
    public double Inverse(int step) => inverse[step];

    /// <summary>Eliminates all nodes but node 0; false where a pivot is not positive.</summary>
    public bool TryEliminate()
    {
        for (var step = 0; step < steps.Order.Length; step++)
        {
            var node = steps.Order[step];
            int first = steps.Starts[step], end = steps.Starts[step + 1];
            var pivot = Shunt[node];
            for (var i = first; i < end; i++) pivot += Between[steps.NeighbourSlots[i]];
            if (pivot == 0)
            {
                // Cut off from the driver, and nothing there draws current.
                inverse[step] = 0;
                continue;
            }

            if (!(pivot > 0)) return false;
            var inverted = inverse[step] = 1 / pivot;
            var pair = steps.PairStarts[step];
            for (var j = first; j < end; j++)
            {
                var share = Between[steps.NeighbourSlots[j]] * inverted;
                Shunt[steps.Neighbours[j]] += share * Shunt[node];
                for (var i = first; i < j; i++)
                    Between[steps.Pairs[pair++]] += share * Between[steps.NeighbourSlots[i]];
            }
        }

        return true;
    }

    /// <summary>The voltages at a driver voltage and at currents put into the nodes.</summary>
    /// <param name="driverVolts">Voltage at node 0, V.</param>
    /// <param name="injected">Current put into each node, A; overwritten.</param>
    /// <param name="volts">Receives the voltage at each node, V.</param>
    /// <returns>The current out of the driver, A.</returns>
    public double Solve(double driverVolts, Span<double> injected, Span<double> volts)
    {
        for (var step = 0; step < steps.Order.Length; step++)
        {
            var put = injected[steps.Order[step]] * inverse[step];
            if (put == 0) continue;
            for (var i = steps.Starts[step]; i < steps.Starts[step + 1]; i++)
                injected[steps.Neighbours[i]] += Between[steps.NeighbourSlots[i]] * put;
        }

        volts[0] = driverVolts;
        for (var step = steps.Order.Length - 1; step >= 0; step--)
        {
            var sum = injected[steps.Order[step]];
            for (var i = steps.Starts[step]; i < steps.Starts[step + 1]; i++)
                sum += Between[steps.NeighbourSlots[i]] * volts[steps.Neighbours[i]];
            volts[steps.Order[step]] = sum * inverse[step];
        }

        return (Shunt[0] * driverVolts) - injected[0];
    }
}
