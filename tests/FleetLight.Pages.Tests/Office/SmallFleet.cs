using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Testing.Builders;
using FleetLight.Testing.Service;

namespace FleetLight.Pages.Tests.Office;

/// <summary>A small invented fleet: three sites, four circuits, some alerts, and a fact that was refused.</summary>
internal sealed class SmallFleet
{
    private SmallFleet(Organisation organisation, Device crew)
    {
        Organisation = organisation;
        Crew = crew;
    }

    public Organisation Organisation { get; }

    /// <summary>The phone of the crew.</summary>
    public Device Crew { get; }

    /// <summary>The office's key.</summary>
    public string Key => Organisation.Office.Key!;

    public static async Task<SmallFleet> CreateAsync(Organisation organisation)
    {
        Device crew = await organisation.AddDeviceAsync("urn:device:crew-heron");
        await crew.TellAsync(
            Site("s1", "Sedge Walk", "Ormsley (invented), by the mill pond", 9.9920, 50.9960),
            Site("s2", "Tanner’s Yard", "Ormsley (invented), behind the hall", 10.0012, 50.9991),
            Site("s3", "Upper Orchard", "Ormsley (invented), on the slope", 10.0107, 50.9934),
            CircuitFacts.Designed("k1", name: "Path lights", siteId: "s1"),
            CircuitFacts.Designed("k2", name: "Pond lights", siteId: "s1"),
            CircuitFacts.Designed("k3", name: "Gate lights", siteId: "s2"),
            CircuitFacts.Designed("k4", name: "Wall lights", siteId: "s3"),
            CircuitFacts.Fault("f1", "It flickers in the rain.", "k1", "s1"),
            CircuitFacts.Fault("f2", "Dark since Sunday.", "k3", "s2"),
            Facts.BoxSealed("b1", lie: BoxLie.FlatInGround, gelFilled: false, label: "B1", siteId: "s2"));
        await crew.SendAsync(crew.Record(Facts.DuctLaid("d1", siteId: "s1"))
            .ChangeData(data => data["lengthMetres"] = 9900));
        await Eventually.ReadAsync(
            () => organisation.Office.ReadAsync<Page<AlertView>>("/v1/alerts"), page => page.Items.Count >= 3, "the alerts of the small fleet");
        return new SmallFleet(organisation, crew);
    }

    private static SiteOpened Site(string id, string name, string place, double longitude, double latitude) => new()
    {
        SiteId = id,
        Name = name,
        Place = place,
        Position = new GeoPoint { Type = "Point", Coordinates = [longitude, latitude] },
    };
}
