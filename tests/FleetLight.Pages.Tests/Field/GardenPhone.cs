using System.Net;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Pages.Tests.Browsing;
using FleetLight.Testing.Service;
using Microsoft.Playwright;

namespace FleetLight.Pages.Tests.Field;

/// <summary>A site with two circuits that the service knows, and a phone of a crew that was enrolled and has fetched it.</summary>
internal sealed class GardenPhone : IAsyncDisposable
{
    /// <summary>The site.</summary>
    public const string Site = "s-garden";

    private readonly IBrowserContext window;

    private GardenPhone(Organisation organisation, IBrowserContext window, IPage page) => (Organisation, this.window, Page) = (organisation, window, page);

    /// <summary>The organisation.</summary>
    public Organisation Organisation { get; }

    /// <summary>The phone's window.</summary>
    public IBrowserContext Window => window;

    /// <summary>The page on it.</summary>
    public IPage Page { get; }

    /// <summary>The loop of four fittings on 350 mA: 18.3 V and a little for the cable.</summary>
    public static CircuitDesigned Loop { get; } = new()
    {
        SiteId = Site,
        CircuitId = "k-terrace",
        Name = "Terrace",
        Drive = DriveKind.ConstantCurrent,
        Driver = new DriverDesign { RatedMilliamps = 350, LeastVolts = 3, MostVolts = 60, OpenCircuitVolts = 58 },
        Fittings = [.. Enumerable.Range(1, 4).Select(number => new FittingDesign { FittingId = $"f{number}", RatedWatts = 1.6 })],
        Runs = [.. Enumerable.Range(1, 4).Select(number => Run($"r{number}", number == 1 ? "driver" : $"f{number - 1}", $"f{number}", number == 1 ? 12 : 6, $"c{number}"))],
    };

    /// <summary>A feed of 24 V with two boxes and three fittings.</summary>
    public static CircuitDesigned Feed { get; } = new()
    {
        SiteId = Site,
        CircuitId = "k-drive",
        Name = "Drive",
        Drive = DriveKind.ConstantVoltage,
        Driver = new DriverDesign { RatedVolts = 24, MostWatts = 60 },
        Fittings = [.. Enumerable.Range(1, 3).Select(number => new FittingDesign { FittingId = $"g{number}", RatedWatts = 5 })],
        Runs = [Run("q1", "driver", "b1", 15), Run("q2", "b1", "g1", 3), Run("q3", "b1", "b2", 10), Run("q4", "b2", "g2", 3), Run("q5", "b2", "g3", 8)],
    };

    /// <summary>Opens the phone.</summary>
    public static async Task<GardenPhone> OpenAsync(RunningService service, Screen screen, bool dark = false, params IFact[] more)
    {
        var organisation = await service.AddOrganisationAsync();
        var crew = await organisation.AddDeviceAsync();
        await crew.TellAsync([new SiteOpened { SiteId = Site, Name = "The old garden" }, Loop, Feed, .. Built, .. more]);
        // The phone fetches the list of sites as soon as it has its key, and then every minute.
        await Eventually.ReadAsync(() => organisation.Office.GetAsync($"/v1/sites/{Site}"), site => site.Status == HttpStatusCode.OK, "the garden");
        var made = await organisation.Office.PostAsync("/v1/enrolments", new { name = "phone", role = "device", source = "urn:device:phone", sites = new[] { Site } });
        var code = made.Expect(HttpStatusCode.Created).Json["code"]!.GetValue<string>();
        var window = await Browser.OpenAsync(service.Url, screen, dark);
        var page = await window.OpenAsync("/field/enrol");
        await page.GetByLabel("Code").FillAsync(code);
        await page.GetByRole(AriaRole.Button, new() { Name = "Enrol this phone" }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Choose a site" }).Last.ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "The old garden" }).ClickAsync();
        // The line below stands there before the page has gone to its beginning.
        await page.GetByRole(AriaRole.Heading, new() { Name = "What did you just do?" }).WaitForAsync();
        return new GardenPhone(organisation, window, page);
    }

    /// <summary>Goes to a page by the line below, as a thumb does: without loading anything again.</summary>
    public async Task GoAsync(string place, string heading)
    {
        await Page.GetByRole(AriaRole.Navigation, new() { Name = "Places" }).GetByRole(AriaRole.Link, new() { Name = place }).ClickAsync();
        await Page.GetByRole(AriaRole.Heading, new() { Name = heading, Level = 1 }).WaitForAsync();
    }

    /// <inheritdoc/>
    public ValueTask DisposeAsync() => window.DisposeAsync();

    /// <summary>200 fittings on one feed of 24 V.</summary>
    public static CircuitDesigned Avenue { get; } = new()
    {
        SiteId = Site,
        CircuitId = "k-avenue",
        Name = "Avenue",
        Drive = DriveKind.ConstantVoltage,
        Driver = new DriverDesign { RatedVolts = 24, MostWatts = 400 },
        Fittings = [.. Enumerable.Range(1, 200).Select(number => new FittingDesign { FittingId = $"a{number}", RatedWatts = 1 })],
        Runs =
        [
            .. Enumerable.Range(1, 200).Select(number => new RunDesign
            {
                RunId = $"ar{number}", From = number == 1 ? "driver" : $"a{number - 1}", To = $"a{number}", LengthMetres = 0.5, AreaSquareMillimetres = 6,
                ConductorClass = ConductorClass.Class5,
            }),
        ],
    };

    private static IFact[] Built =>
    [
        new DuctLaid
        {
            SiteId = Site, DuctId = "d1", Service = DuctService.LightingExtraLowVoltage, Colour = DuctColour.Orange, Wall = DuctWall.TwinWall, BoreMillimetres = 40,
            LengthMetres = 12,
            DepthMillimetres = 450, BendsDegrees = 90,
        },
        .. Enumerable.Range(1, 4).Select(number => new CablePulled
        {
            SiteId = Site, CableId = $"c{number}", DuctIds = number == 1 ? ["d1"] : [], LengthMetres = number == 1 ? 12 : 6,
            AreaSquareMillimetres = 1.5, ConductorClass = ConductorClass.Class5,
            Cores = [new() { Core = "brown", Use = CoreUse.Circuit, CircuitId = "k-terrace" }, new() { Core = "blue", Use = CoreUse.Circuit, CircuitId = "k-terrace" }],
        }),
        new CoreSleeved { SiteId = Site, CableId = "c1", Core = "brown", Polarity = CorePolarity.Positive, End = RunEnd.Near },
        new CoreSleeved { SiteId = Site, CableId = "c1", Core = "blue", Polarity = CorePolarity.Negative, End = RunEnd.Near },
        new BoxSealed { SiteId = Site, BoxId = "b1", Lie = BoxLie.OnSpike, Entry = BoxEntry.Glands, StrainRelief = true, GelFilled = true, Breathing = false,
            Label = "Box by the steps" },
    ];

    private static RunDesign Run(string id, string from, string to, double metres, string? cable = null) => new()
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
