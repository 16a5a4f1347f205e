using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>
/// Gathers equal parts of a circuit at places that the readings cannot tell apart, so that each fault is worked out once
/// for all of them.
/// </summary>
/// <remarks>
/// Each part is disturbed by probes that move the readings as the faults there can, and parts whose disturbed readings lie
/// within a share of the readings' uncertainty count as one. Where more are left than can be worked out in time, those of
/// which a probe moves the readings in the direction in which they are off are kept apart, and the rest are gathered more
/// coarsely than the readings would allow.
/// </remarks>
internal sealed class AlikePlaces
{
    private const double Same = 0.25;

    // Stands for the readings of a circuit without an operating point.
    private const double NoState = 1e6;

    private readonly CircuitPlan plan;
    private readonly Evidence evidence;
    private readonly Observer observer;
    private readonly Observation sound;
    private readonly int most;
    private readonly double[] zero;
    private readonly double[] rest;

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
        zero = Whitened(i => sound.Mean[i]);
        rest = Whitened(i => evidence.Rows[i].Value - sound.Mean[i]);
    }

    /// <summary>Gathers parts, one with each step.</summary>
    /// <param name="parts">Their indices.</param>
    /// <param name="probes">The disturbances of one.</param>
    /// <param name="areEqual">Whether two are of one make.</param>
    /// <param name="into">Takes what was gathered, once all steps are gone through.</param>
    /// <returns>How many parts were looked at so far.</returns>
    public IEnumerable<int> Gather(
        IReadOnlyList<int> parts, Func<int, CircuitChange[]> probes, Func<int, int, bool> areEqual, List<Alike> into)
    {
        var places = new List<Place>(parts.Count);
        foreach (var part in parts)
        {
            places.Add(new Place(part, Signature(probes(part))));
            yield return places.Count;
        }

        var found = Gather(places, areEqual, Same);
        if (found.Count > most)
        {
            var ranked = found.OrderBy(all => Off(all[0].Signature)).ToList();
            var kept = ranked.Take(most / 2).ToList();
            var left = ranked.Skip(most / 2).SelectMany(all => all).OrderBy(place => place.Part).ToList();
            var same = Same;
            do
            {
                yield return places.Count;
                same *= 2;
                found = Gather(left, areEqual, same);
            }
            while (found.Count > most - kept.Count && same < 1e9);
            found = [.. kept, .. found];
        }

        into.AddRange(found.Select(all => new Alike(all[all.Count / 2].Part, [.. all.Select(place => place.Part)])));
    }

    private static List<List<Place>> Gather(IReadOnlyList<Place> places, Func<int, int, bool> areEqual, double same)
    {
        var found = new List<List<Place>>();
        foreach (var place in places)
        {
            // Neighbours are the likeliest to be alike.
            var at = found.FindLastIndex(all =>
                areEqual(place.Part, all[0].Part) && AreNear(place.Signature, all[0].Signature, same));
            if (at >= 0) found[at].Add(place);
            else found.Add([place]);
        }

        return found;
    }

    private static bool AreNear(double[] one, double[] other, double same)
    {
        double squares = 0;
        for (var i = 0; i < one.Length; i++) squares += (one[i] - other[i]) * (one[i] - other[i]);
        return squares <= same * same;
    }

    // For each probe the disturbed readings in standard uncertainties, then what would be seen of the fittings.
    private double[] Signature(CircuitChange[] probes)
    {
        var count = evidence.Rows.Length;
        var lamps = evidence.Lamps.Length;
        var signature = new double[probes.Length * (count + lamps)];
        for (var p = 0; p < probes.Length; p++)
        {
            var own = signature.AsSpan(p * (count + lamps), count + lamps);
            ImmutableArray<CircuitChange> changes = [probes[p]];
            var state = plan.Solve(changes, []);
            if (state is null || observer.Observe(state, changes) is not { } seen)
            {
                own.Fill(NoState);
                continue;
            }

            seen.Mean.CopyTo(own);
            Cholesky.Whiten(sound.Factor, own[..count], count);
            for (var i = 0; i < lamps; i++)
                own[count + i] = Observer.LitProbability(state, evidence.Lamps[i].Fitting);
        }

        return signature;
    }

    private double Off(double[] signature)
    {
        var each = rest.Length + evidence.Lamps.Length;
        var least = double.PositiveInfinity;
        for (var at = 0; at < signature.Length && each > 0; at += each)
            least = Math.Min(least, Off(signature.AsSpan(at, each)));
        return least;
    }

    // Squared distance of the readings from the line along which a probe moves them, and what the fittings say.
    private double Off(ReadOnlySpan<double> moved)
    {
        double along = 0, length = 0, squares = 0;
        for (var i = 0; i < rest.Length; i++)
        {
            var shift = moved[i] - zero[i];
            along += shift * rest[i];
            length += shift * shift;
            squares += rest[i] * rest[i];
        }

        var off = length > 0 ? squares - (along * along / length) : squares;
        for (var i = 0; i < evidence.Lamps.Length; i++)
        {
            var lit = Math.Clamp(moved[rest.Length + i], Observer.LitSlip, 1 - Observer.DarkSlip);
            off -= 2 * Math.Log((evidence.Lamps[i].Lit ? lit : 0) + (evidence.Lamps[i].Dark ? 1 - lit : 0));
        }

        return off;
    }

    private double[] Whitened(Func<int, double> value)
    {
        var result = new double[evidence.Rows.Length];
        for (var i = 0; i < result.Length; i++) result[i] = value(i);
        Cholesky.Whiten(sound.Factor, result, result.Length);
        return result;
    }

    private readonly record struct Place(int Part, double[] Signature);
}
