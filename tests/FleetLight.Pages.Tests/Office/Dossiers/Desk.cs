using System.Net;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Pages.Tests.Browsing;
using FleetLight.Testing.Service;
using Microsoft.Playwright;

namespace FleetLight.Pages.Tests.Office.Dossiers;

/// <summary>A garden that was built over a few days, and an office that looks at it with a key of its role.</summary>
internal sealed class Desk : IAsyncDisposable
{
    /// <summary>The site.</summary>
    public const string Site = "s-terraces";

    /// <summary>The circuit.</summary>
    public const string Circuit = "k-steps";

    private readonly IBrowserContext window;
    private readonly string key;

    private Desk(Organisation organisation, Device crew, IBrowserContext window, string key) => (Organisation, Crew, this.window, this.key) = (organisation, crew, window, key);

    /// <summary>The organisation.</summary>
    public Organisation Organisation { get; }

    /// <summary>The crew's device.</summary>
    public Device Crew { get; }

    /// <summary>Two fittings of 1.6 W in a loop on 350 mA: 9.4 V at the driver.</summary>
    public static CircuitDesigned Design { get; } = new()
    {
        SiteId = Site,
        CircuitId = Circuit,
        Name = "Terrace steps",
        Drive = DriveKind.ConstantCurrent,
        Driver = new DriverDesign { RatedMilliamps = 350, LeastVolts = 3, MostVolts = 36, MostWatts = 12, OpenCircuitVolts = 42 },
        Fittings = [new FittingDesign { FittingId = "f1", RatedWatts = 1.6 }, new FittingDesign { FittingId = "f2", RatedWatts = 1.6 }],
        Runs = [Run("r1", "driver", "b1", 18, "c1"), Run("r2", "b1", "f1", 2, null), Run("r3", "f1", "f2", 4, null)],
    };

    /// <summary>A day of March 2026, at ten in the morning of the office.</summary>
    public static DateTimeOffset On(int day, int minute = 0) => new DateTimeOffset(2026, 3, day, 9, 0, 0, TimeSpan.Zero).AddMinutes(minute);

    /// <summary>Builds the garden and opens a window.</summary>
    public static async Task<Desk> OpenAsync(RunningService service)
    {
        var organisation = await service.AddOrganisationAsync();
        var crew = await organisation.AddDeviceAsync();
        await crew.SendAsync(
            crew.Record(new SiteOpened { SiteId = Site, Name = "Hill terraces", Place = "Behind the upper wall", Position = At(0, 0) }, On(2)),
            crew.Record(Design, On(2, 1)),
            crew.Record(Duct("d1", "D1", DuctService.LightingExtraLowVoltage, DuctColour.Black, (0, 0), (6, 9), (14, 12)), On(2, 2)),
            crew.Record(new DuctLabelled { SiteId = Site, DuctId = "d1", Label = "D1" }, On(2, 3)),
            crew.Record(new StringLeft { SiteId = Site, DuctId = "d1", Method = StringMethod.LaidIn }, On(2, 4)),
            crew.Record(
                new CablePulled
                {
                    SiteId = Site,
                    CableId = "c1",
                    DuctIds = ["d1"],
                    LengthMetres = 18,
                    AreaSquareMillimetres = 1.5,
                    ConductorClass = ConductorClass.Class5,
                    OutsideDiameterMillimetres = 9.2,
                    Cores =
                    [
                        new CoreAssignment { Core = "brown", Use = CoreUse.Circuit, CircuitId = Circuit },
                        new CoreAssignment { Core = "blue", Use = CoreUse.Circuit, CircuitId = Circuit },
                        new CoreAssignment { Core = "grey", Use = CoreUse.Spare },
                    ],
                },
                On(4)),
            crew.Record(
                new BoxSealed
                {
                    SiteId = Site,
                    BoxId = "b1",
                    Lie = BoxLie.FlatInGround,
                    Entry = BoxEntry.Glands,
                    StrainRelief = true,
                    GelFilled = true,
                    Breathing = false,
                    Label = "B1",
                    Position = At(14, 12),
                },
                On(4, 1)),
            crew.Record(Duct("d2", "D2", DuctService.MainsSupply, DuctColour.Red, (0, 0), (4, -6)), On(9)),
            crew.Record(new FittingFixed { SiteId = Site, CircuitId = Circuit, FittingId = "f1", Position = At(16, 13) }, On(9, 1)),
            crew.Record(new FittingFixed { SiteId = Site, CircuitId = Circuit, FittingId = "f2", Position = At(19, 15) }, On(9, 2)),
            crew.Record(new DriverConnected { SiteId = Site, CircuitId = Circuit, Position = At(0, 0), At = "In the shed" }, On(9, 3)),
            crew.Record(new CircuitEnergised { SiteId = Site, CircuitId = Circuit }, On(9, 4)),
            crew.Record(Reading(9.41), On(9, 5), "first-reading"));
        var key = (await organisation.Office.PostAsync("/v1/keys", new { name = "desk", role = "office" })).Expect(HttpStatusCode.Created).Json["key"]!.GetValue<string>();
        return new Desk(organisation, crew, await Browser.OpenAsync(service.Url, Screen.Desktop), key);
    }

    /// <summary>A reading at the driver, V.</summary>
    public static ReadingTaken Reading(double volts) =>
        new() { SiteId = Site, CircuitId = Circuit, Place = ReadingPlaceKind.Driver, Quantity = ReadingQuantity.VoltsDc, Value = volts };

    /// <summary>Opens a page of the office.</summary>
    public async Task<IPage> GoAsync(string path, string heading)
    {
        var page = await window.OpenAsync($"/office/{path}#key={key}");
        await page.GetByRole(AriaRole.Heading, new() { Name = heading, Level = 1 }).WaitForAsync();
        return page;
    }

    /// <summary>Looks at a page by day and by night, on a desk and on a phone: it is sound and its picture is kept.</summary>
    public static Task LookAsync(IPage page, string name) => page.IsSoundOnAsync(name, Screen.Phone, Screen.Desktop);

    /// <inheritdoc/>
    public ValueTask DisposeAsync() => window.DisposeAsync();

    private static DuctLaid Duct(string id, string label, DuctService service, DuctColour colour, params (double East, double North)[] route) => new()
    {
        SiteId = Site,
        DuctId = id,
        Service = service,
        Colour = colour,
        Wall = DuctWall.TwinWall,
        BoreMillimetres = 40,
        LengthMetres = 18,
        DepthMillimetres = 450,
        NearEndAt = $"{label} at the shed",
        Route = new GeoLine { Type = "LineString", Coordinates = [.. route.Select(each => At(each.East, each.North).Coordinates)] },
    };

    // Metres east and north of a place of no importance, as degrees.
    private static GeoPoint At(double east, double north) => new() { Type = "Point", Coordinates = [10 + (east / 71_000), 50 + (north / 111_200)] };

    private static RunDesign Run(string id, string from, string to, double metres, string? cable) => new()
    {
        RunId = id,
        From = from,
        To = to,
        LengthMetres = metres,
        AreaSquareMillimetres = 1.5,
        ConductorClass = ConductorClass.Class5,
        CableId = cable,
    };
}
