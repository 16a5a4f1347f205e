using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>
/// Gathers equal parts of a circuit at places that the readings cannot tell apart, so that each fault is worked out once
/// for all of them.
/// </summary>
/// <remarks>
/// Each part is disturbed by a probe that moves the readings about as far as any fault there can, and parts whose disturbed
/// readings lie within a share of the readings' uncertainty count as one. Where more are left than can be worked out in
/// time, that share is doubled until few enough are: the places are then told apart less finely than the readings would
/// allow.
/// </remarks>
internal sealed class AlikePlaces
{
    private const double Same = 0.25;

    private readonly CircuitPlan plan;
    private readonly Evidence evidence;
    private readonly Observer observer;
    private readonly Observation sound;
    private readonly int most;

    /// <summary>Makes one.</summary>
    /// <param name="plan">The circuit.</param>
    /// <param name="evidence">The readings.</param>
    /// <param name="observer">What tells the readings of a state.</param>
    /// <param name="sound">The readings of the circuit as designed.</param>
    /// <param name="most">How many places of each sort can be worked out in time.</param>
    public AlikePlaces(CircuitPlan plan, Evidence evidence, Observer observer, Observation sound, int most)
    {
        this.plan = plan;
        this.evidence = evidence;
        this.observer = observer;
        this.sound = sound;
        this.most = most;
    }

    /// <summary>Gathers parts.</summary>
    /// <param name="parts">Their indices.</param>
    /// <param name="probe">The disturbance of one.</param>
    /// <param name="areEqual">Whether two are of one make.</param>
    public ImmutableArray<Alike> Gather(
        IReadOnlyList<int> parts, Func<int, CircuitChange> probe, Func<int, int, bool> areEqual)
    {
        var signatures = new double[parts.Count][];
        for (var i = 0; i < parts.Count; i++) signatures[i] = Signature(probe(parts[i]));
        var same = Same;
        while (true)
        {
            var found = Gather(parts, signatures, areEqual, same);
            if (found.Count <= most || same > 1e9) return [.. found.Select(all => new Alike(all[all.Count / 2], [.. all]))];
            same *= 2;
        }
    }

    private static List<List<int>> Gather(
        IReadOnlyList<int> parts, double[][] signatures, Func<int, int, bool> areEqual, double same)
    {
        var found = new List<List<int>>();
        var leads = new List<int>();
        for (var i = 0; i < parts.Count; i++)
        {
            var at = -1;
            for (var k = leads.Count - 1; k >= 0 && at < 0; k--)
                if (areEqual(parts[i], parts[leads[k]]) && AreNear(signatures[i], signatures[leads[k]], same)) at = k;
            if (at >= 0) found[at].Add(parts[i]);
            else
            {
                leads.Add(i);
                found.Add([parts[i]]);
            }
        }

        return found;
    }

    private static bool AreNear(double[] one, double[] other, double same)
    {
        double squares = 0;
        for (var i = 0; i < one.Length; i++) squares += (one[i] - other[i]) * (one[i] - other[i]);
        return squares <= same * same;
    }

    // The disturbed readings in standard uncertainties, then what would be seen of the fittings.
    private double[] Signature(CircuitChange probe)
    {
        var count = evidence.Rows.Length;
        var signature = new double[count + evidence.Lamps.Length];
        var state = plan.Solve([probe], []);
        if (state is null)
        {
            Array.Fill(signature, 1e6);
            return signature;
        }

        if (observer.Observe(state, [probe]) is { } seen) seen.Mean.CopyTo(signature, 0);
        Cholesky.Whiten(sound.Factor, signature, count);
        for (var i = 0; i < evidence.Lamps.Length; i++)
            signature[count + i] = Observer.LitProbability(state, evidence.Lamps[i].Fitting);
        return signature;
    }
}
