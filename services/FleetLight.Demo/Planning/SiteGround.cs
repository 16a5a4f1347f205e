using FleetLight.Contracts;
using FleetLight.Contracts.Facts;

namespace FleetLight.Demo.Planning;

/// <summary>The ground of a site while it is planned: where its cabinet is, and the ducts laid out so far.</summary>
internal sealed class SiteGround
{
    /// <summary>Colour that the demo's sites call for, service by service.</summary>
    public static IReadOnlyList<DuctCall> Calls { get; } =
    [
        new() { Service = DuctService.LightingExtraLowVoltage, Wall = DuctWall.TwinWall, Colour = DuctColour.Orange },
        new() { Service = DuctService.Spare, Wall = DuctWall.TwinWall, Colour = DuctColour.Orange },
    ];

    private readonly Chance chance;
    private int ducts;

    /// <summary>Lays out the trunk and the spare duct.</summary>
    public SiteGround(string siteId, Spot cabinet, Chance chance)
    {
        this.chance = chance;
        SiteId = siteId;
        Cabinet = cabinet;
        var length = Math.Round(chance.Between(6, 12), 1);
        TrunkEnd = cabinet.Away(length, chance.Between(0, 360));
        Trunk = Duct(cabinet, TrunkEnd, length, DuctColour.Orange, 63, "cabinet", "draw pit");
        var away = Math.Round(chance.Between(15, 30), 1);
        Spare = Duct(cabinet, cabinet.Away(away, chance.Between(0, 360)), away, DuctColour.Orange, 63, "cabinet", "capped in the border", DuctService.Spare);
    }

    /// <summary>The site.</summary>
    public string SiteId { get; }

    /// <summary>Where the drivers are.</summary>
    public Spot Cabinet { get; }

    /// <summary>Far end of the trunk.</summary>
    public Spot TrunkEnd { get; }

    /// <summary>The duct that all circuits share.</summary>
    public DuctPlan Trunk { get; }

    /// <summary>The duct laid for later.</summary>
    public DuctPlan Spare { get; }

    /// <summary>A duct of its own for a run between two spots.</summary>
    public DuctPlan OwnDuct(Spot from, Spot to, double metres, DuctColour colour, string nearEnd, string farEnd) =>
        Duct(from, to, metres, colour, 32, nearEnd, farEnd);

    private DuctPlan Duct(
        Spot from, Spot to, double metres, DuctColour colour, double bore, string nearEnd, string farEnd,
        DuctService service = DuctService.LightingExtraLowVoltage)
    {
        var number = ++ducts;
        // The route bows a little: nobody digs along a ruler.
        var middle = new Spot((from.East + to.East) / 2, (from.North + to.North) / 2).Away(metres * 0.04, chance.Between(0, 360));
        return new DuctPlan(
            new DuctLaid
            {
                SiteId = SiteId,
                DuctId = $"{SiteId}-d{number:d2}",
                Service = service,
                Colour = colour,
                Wall = DuctWall.TwinWall,
                BoreMillimetres = bore,
                LengthMetres = metres,
                DepthMillimetres = chance.Whole(45, 60) * 10,
                Route = Spot.Line(from, middle, to),
                BendsDegrees = chance.Whole(0, 6) * 15,
                NearEndAt = nearEnd,
                FarEndAt = farEnd,
            },
            $"D{number:d2}");
    }
}
