using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Demo.Planning;

namespace FleetLight.Demo.Works;

/// <summary>Corners that stay where they are, and the boxes taped from them: how the next crew finds a box under the mulch.</summary>
internal static class TapeWork
{
    // A tape of 30 m; farther boxes have the phone's position only.
    private const double TapeMetres = 30;
    private const double ReadsToMetres = 0.02;

    /// <summary>Records two corners of the house at the cabinet, and tapes every box that the tape reaches from both.</summary>
    public static void Tape(Job job)
    {
        var chance = Chance.Of(job.World.Seed, $"{job.Site.Id} tapes");
        var along = chance.Between(0, 360);
        var left = job.Site.Cabinet.Away(1.2, along + 90);
        var corners = new[]
        {
            new Corner($"{job.Site.Id}-corner-1", "Corner of the house left of the cabinet", left),
            new Corner($"{job.Site.Id}-corner-2", "Corner of the house by the downpipe", left.Away(Math.Round(chance.Between(7, 11), 2), along)),
        };
        foreach (var corner in corners)
        {
            job.Did(new ReferencePointRecorded
            {
                SiteId = job.Site.Id,
                PointId = corner.Id,
                Name = corner.Name,
                Description = "At the height of the plinth",
                Position = corner.At.Point() with { AccuracyMetres = 0.4, Method = PositionMethod.Gnss },
            });
        }

        foreach (var box in job.Site.Circuits.SelectMany(circuit => circuit.Runs).Select(run => run.Box))
        {
            if (corners.Any(corner => Metres(corner.At, box.At) is < 0.5 or > TapeMetres)) continue;
            job.Did(new PlaceMeasured
            {
                SiteId = job.Site.Id,
                Kind = ThingKind.Box,
                ThingId = box.Id,
                Tapes = [.. corners.Select(corner => new Tape
                {
                    From = corner.Id,
                    DistanceMetres = Math.Round(Metres(corner.At, box.At) + chance.Spread(ReadsToMetres, 3 * ReadsToMetres), 2),
                })],
                Side = IsLeft(corners[0].At, corners[1].At, box.At) ? SideOfLine.Left : SideOfLine.Right,
            });
        }
    }

    private static double Metres(Spot one, Spot other) => Math.Sqrt(Math.Pow(one.East - other.East, 2) + Math.Pow(one.North - other.North, 2));

    private static bool IsLeft(Spot from, Spot to, Spot at) =>
        ((to.East - from.East) * (at.North - from.North)) - ((to.North - from.North) * (at.East - from.East)) > 0;

    private sealed record Corner(string Id, string Name, Spot At);
}
