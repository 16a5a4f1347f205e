using FleetLight.Contracts.Views;

namespace FleetLight.Service.Works;

/// <summary>What a page has to do without, as far as that is known while it is tried.</summary>
public sealed class SetAsides
{
    private readonly Dictionary<Guid, (PageUnit Unit, ThingRef? Thing, string Error)> units = [];
    private readonly Dictionary<ThingRef, string> things = [];

    /// <summary>Facts and other events that are left out, with the thing whose fold they made fail and the error.</summary>
    public IReadOnlyCollection<(PageUnit Unit, ThingRef? Thing, string Error)> Units => units.Values;

    /// <summary>Things that keep the state that they had, with the error.</summary>
    public IReadOnlyDictionary<ThingRef, string> Things => things;

    /// <summary>Leaves a piece of the page out.</summary>
    public void Add(PageUnit unit, ThingRef? thing, string error)
    {
        if (unit.Thing is { } again) Add(again, error);
        else units[unit.Id] = (unit, thing, error);
    }

    /// <summary>Lets a thing keep the state that it had.</summary>
    public void Add(ThingRef thing, string error) => things[thing] = error;

    /// <summary>How many facts were left out for this thing.</summary>
    public int CountFor(ThingRef thing) => units.Values.Count(each => each.Thing == thing);

    /// <summary>The rest of these pieces.</summary>
    public PageUnit[] Without(IEnumerable<PageUnit> all) =>
        [.. all.Where(unit => unit.Thing is { } thing ? !things.ContainsKey(thing) : !units.ContainsKey(unit.Id))];
}
