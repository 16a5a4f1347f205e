namespace FleetLight.Record.Materials;

/// <summary>From which reel each length is cut.</summary>
/// <param name="Reels">The lengths cut from each reel, m.</param>
/// <param name="TooLong">Lengths longer than a full reel, m.</param>
/// <param name="LeastReels">Number of reels below which no plan can go.</param>
public sealed record CutPlan(IReadOnlyList<IReadOnlyList<double>> Reels, IReadOnlyList<double> TooLong, int LeastReels);

/// <summary>
/// Cuts lengths from reels: the longest first, each from the first reel that has enough left (first-fit decreasing). It needs at most
/// 11/9 of the fewest reels there could be, and 6/9 of a reel (Dósa 2007, from memory; the bound is tight).
/// </summary>
public static class CutPlanner
{
    // Lengths are in whole centimetres: what a sum of binary fractions is off by must not cost a reel.
    private const double Hair = 1e-6;

    /// <summary>The plan.</summary>
    /// <param name="lengths">Lengths to cut, m.</param>
    /// <param name="reelMetres">Length of a full reel, m.</param>
    public static CutPlan Plan(IEnumerable<double> lengths, double reelMetres)
    {
        var sorted = lengths.OrderDescending().ToList();
        var reels = new List<(List<double> Cuts, double Left)>();
        foreach (var length in sorted.Where(length => length <= reelMetres + Hair))
        {
            var at = reels.FindIndex(reel => length <= reel.Left + Hair);
            if (at < 0)
            {
                reels.Add(([], reelMetres));
                at = reels.Count - 1;
            }

            reels[at].Cuts.Add(length);
            reels[at] = (reels[at].Cuts, reels[at].Left - length);
        }

        return new CutPlan([.. reels.Select(reel => reel.Cuts)], [.. sorted.Where(length => length > reelMetres + Hair)], Least(sorted, reelMetres));
    }

    // No two lengths over half a reel share one, and no plan needs less than the lengths together.
    private static int Least(List<double> lengths, double reelMetres)
    {
        var fitting = lengths.Where(length => length <= reelMetres + Hair).ToList();
        var together = (int)Math.Ceiling((fitting.Sum() / reelMetres) - Hair);
        return Math.Max(together, fitting.Count(length => length > (reelMetres / 2) + Hair));
    }
}
