using FleetLight.Contracts.Facts;

namespace FleetLight.Demo.Planning;

/// <summary>Plans the fleet: twelve sites of five circuits each, and what each circuit plays.</summary>
internal static class FleetPlanner
{
    /// <summary>Circuits on every site.</summary>
    public const int CircuitsASite = 5;

    /// <summary>Sites that were handed over long enough ago for eighteen months of readings.</summary>
    public const int OldSites = 9;

    // Names of places that any town has.
    private static readonly (string Name, string Place)[] Places =
    [
        ("Walled Garden", "behind the old manor"),
        ("Lime Tree Square", "between the library and the baths"),
        ("Lower Quay", "along the millpond"),
        ("Hill Churchyard", "above the west gate"),
        ("Rose Terrace", "below the assembly rooms"),
        ("Corn Square", "before the corn hall"),
        ("Orchard Walk", "from the school to the mill"),
        ("Fountain Court", "inside the almshouses"),
        ("Schoolhouse Green", "across from the school"),
        ("Sunken Garden", "south of the park lodge"),
        ("Weavers Yard", "off the long lane"),
        ("Bridge Gardens", "by the footbridge"),
    ];

    // Months before the anchor when work on each site began; four sites for each crew, one after the other.
    private static readonly double[] MonthsBefore = [22.8, 22.6, 22.4, 21.6, 21.4, 21.2, 20.4, 20.2, 20.0, 10.5, 7.5, 1.6];

    private static readonly string[] Sides = ["north", "east", "south", "west", "centre"];

    /// <summary>The fleet of a seed.</summary>
    /// <param name="seed">Seed.</param>
    /// <param name="anchor">The day of the first load, which every date is counted from.</param>
    public static IReadOnlyList<SitePlan> Plan(long seed, DateTimeOffset anchor)
    {
        var roles = Roles(Chance.Of(seed, "roles"));
        return [.. Places.Select((place, index) => Site(seed, anchor, index, place.Name, place.Place, roles))];
    }

    private static SitePlan Site(long seed, DateTimeOffset anchor, int index, string name, string place, Dictionary<(int, int), Role> roles)
    {
        var id = $"s{index + 1:d2}";
        var chance = Chance.Of(seed, $"{id} plan");
        // A grid with some play keeps the sites apart on a map.
        var cabinet = new Spot(
            (((index % 4) - 1.5) * 420) + chance.Between(-120, 120), ((index / 4) - 1) * 450 + chance.Between(-120, 120));
        var ground = new SiteGround(id, cabinet, chance);
        var circuits = Enumerable.Range(0, CircuitsASite).Select(number => new CircuitPlanner(
            ground,
            $"{id}-c{number + 1}",
            Sides[number],
            roles.GetValueOrDefault((index, number)),
            mainsSide: number == 0,
            Chance.Of(seed, $"{id}-c{number + 1} plan")).Plan()).ToArray();
        return new SitePlan(
            new SiteOpened
            {
                SiteId = id,
                Name = name,
                Place = $"{Crews.Town} (invented), {place}",
                Position = cabinet.Point(),
                DuctCalls = [.. SiteGround.Calls],
            },
            Crews.All[index % Crews.All.Count],
            anchor.AddDays(Math.Round(-MonthsBefore[index] * 30.44)),
            cabinet,
            ground.Trunk,
            ground.Spare,
            circuits);
    }

    private static Dictionary<(int Site, int Circuit), Role> Roles(Chance chance)
    {
        var slots = chance.Shuffled(
            from site in Enumerable.Range(0, OldSites) from circuit in Enumerable.Range(0, CircuitsASite) select (site, circuit));
        var roles = Enum.GetValues<Role>().Where(role => role is not (Role.Plain or Role.Reversed)).ToArray();
        var drawn = roles.Select((role, index) => (slots[index], role)).ToDictionary(pair => pair.Item1, pair => pair.role);
        // A dark string is never handed over: it stands on the newest site.
        drawn[(Places.Length - 1, chance.Whole(0, CircuitsASite - 1))] = Role.Reversed;
        return drawn;
    }
}
