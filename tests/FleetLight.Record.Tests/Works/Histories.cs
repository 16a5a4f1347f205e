using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;

namespace FleetLight.Record.Tests.Works;

/// <summary>
/// Generates histories: a few devices, a few things that they all write about, times that collide, corrections of what
/// was said before or comes later, joinings, designs before and after everything else.
/// </summary>
internal static class Histories
{
    private static readonly string[] Devices = ["crew-a", "crew-b", "office"];

    /// <summary>
    /// Facts each once, in the order of their making. A smaller size makes the first of the same facts.
    /// </summary>
    public static RecordedFact[] Make(int size, int seed) => Make(size, new Dice(seed));

    /// <summary>The same facts in some order, some of them twice or thrice, cut into batches.</summary>
    public static RecordedFact[][] Arrival(RecordedFact[] history, int seed)
    {
        var dice = new Dice(seed);
        var sent = history.Concat(Enumerable.Range(0, dice.Below(10)).Select(_ => dice.Of(history))).ToArray();
        dice.Shuffle(sent);
        return [.. sent.Chunk(1 + dice.Below(12))];
    }

    private static RecordedFact[] Make(int size, Dice dice)
    {
        var crews = Devices.Select(device => new Crew(device)).ToArray();
        var made = new List<RecordedFact>();
        while (made.Count < size)
        {
            var crew = dice.Of(crews);
            var data = Data(dice, made);
            // Few different times: equal ones must be put in order by source and running number. Readings go on for years.
            var at = Crew.Start.AddHours(dice.Below(30)).AddDays(data is ReadingTaken && dice.Is() ? 8 * dice.Below(90) : 0);
            made.Add(crew.Records(data, at, recordedAt: at.AddHours(dice.Below(50))));
        }

        return [.. made];
    }

    private static IFact Data(Dice dice, List<RecordedFact> made) => dice.Below(20) switch
    {
        0 or 1 when made.Count > 0 => Correction(dice, dice.Of(made)),
        2 => Joining(dice, dice.Of([ThingKind.Duct, ThingKind.Cable, ThingKind.Box])),
        _ => Plain(dice),
    };

    private static ThingsJoined Joining(Dice dice, ThingKind kind)
    {
        var prefix = kind switch { ThingKind.Duct => "d", ThingKind.Cable => "c", _ => "b" };
        var kept = dice.Below(3);
        return Facts.Joined(kind, $"{prefix}{kept}", $"{prefix}{(kept + 1 + dice.Below(2)) % 3}");
    }

    private static FactCorrected Correction(Dice dice, RecordedFact target) => dice.Below(3) switch
    {
        0 => Facts.Withdrawn(target),
        1 when target.Data is not FactCorrected => Facts.Replaced(target, OfType(dice, target.Data.GetType())),
        // Data of any type: mostly it does not fit and counts for nothing.
        _ => Facts.Replaced(target, Plain(dice)),
    };

    private static IFact OfType(Dice dice, Type type)
    {
        if (type == typeof(ThingsJoined)) return Joining(dice, ThingKind.Duct);
        while (true)
            if (Plain(dice) is { } data && data.GetType() == type) return data;
    }

    private static IFact Plain(Dice dice) => dice.Below(26) switch
    {
        0 => Facts.SiteOpened(
            Site(dice),
            calls: dice.Is() ? [new() { Service = DuctService.MainsSupply, Wall = dice.Word<DuctWall>() }] : null),
        1 or 2 => Facts.DuctLaid(
            Id(dice, "d"), dice.Word<DuctService>(), dice.Word<DuctColour>(), dice.Word<DuctWall>(), 20 + dice.Below(60),
            siteId: Site(dice)),
        3 => Facts.DuctLabelled(Id(dice, "d"), $"L{dice.Below(3)}", dice.Maybe<RunEnd>()),
        4 or 5 => Facts.DuctPlugged(dice.Word<RunEnd>(), Id(dice, "d")),
        6 => Facts.StringLeft(Id(dice, "d"), dice.Word<StringMethod>(), dice.Is() ? 1 + dice.Below(30) : null),
        7 or 8 or 9 => Facts.CablePulled(
            Id(dice, "c"), [.. Enumerable.Range(0, 3).Where(_ => dice.Is()).Select(i => $"d{i}")], 1 + dice.Below(50),
            cores: [Facts.Core("1", Id(dice, "k")), Facts.Core("2", dice.Is() ? Id(dice, "k") : null)],
            diameter: dice.Is() ? 5 + dice.Below(10) : null, siteId: Site(dice)),
        10 => Facts.CableLabelled(Id(dice, "c"), end: dice.Maybe<RunEnd>()),
        11 => Facts.CoreSleeved(
            dice.Of(["1", "2", "3"]),
            dice.Word<CorePolarity>(),
            dice.Word<RunEnd>(),
            Id(dice, "c")),
        12 => Facts.BoxSealed(
            Id(dice, "b"), dice.Word<BoxLie>(), dice.Word<BoxEntry>(), dice.Is(), dice.Is(), dice.Is(), siteId: Site(dice)),
        13 => Facts.JointMade(
            Id(dice, "b"), $"j{dice.Below(3)}", Id(dice, "k"), dice.Word<JointArrangement>(),
            [.. Enumerable.Range(0, 1 + dice.Below(2)).Select(_ => Facts.Connector(
                [.. Enumerable.Range(0, 1 + dice.Below(3)).Select(_ => dice.Is()
                    ? Facts.Held(dice.Of(["1", "2", "3"]), Id(dice, "c"))
                    : Facts.Lead(Id(dice, "F")))]))],
            dice.Is()),
        14 => Photo(dice, dice.Of([(ThingKind.Duct, "d"), (ThingKind.Cable, "c"), (ThingKind.Box, "b"), (ThingKind.Circuit, "k")])),
        15 => Places.Point(dice),
        16 or 17 => Places.Place(dice),
        _ => CircuitHistories.Plain(dice),
    };

    private static PhotoTaken Photo(Dice dice, (ThingKind Kind, string Prefix) of) => Facts.PhotoTaken(of.Kind, Id(dice, of.Prefix), siteId: Site(dice));

    internal static string Id(Dice dice, string prefix) => $"{prefix}{dice.Below(3)}";

    internal static string Site(Dice dice) => dice.Below(8) == 0 ? "s1" : "s0";
}

/// <summary>Answers every question by chance, from a seed that is printed when a law is broken.</summary>
internal sealed class Dice(int seed)
{
    private readonly Random random = new(seed);

    public int Below(int most) => random.Next(most);

    public bool Is() => Below(2) == 0;

    public T Of<T>(IReadOnlyList<T> list) => list[Below(list.Count)];

    public void Shuffle<T>(T[] list) => random.Shuffle(list);

    public T Word<T>()
        where T : struct, Enum => Of(Enum.GetValues<T>());

    public T? Maybe<T>()
        where T : struct, Enum => Is() ? Word<T>() : null;
}
