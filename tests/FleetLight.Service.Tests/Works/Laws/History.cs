using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Testing.Builders;
using FleetLight.Testing.Service;

namespace FleetLight.Service.Tests.Works.Laws;

/// <summary>
/// What a few crews and an office recorded of a few things on two sites, in a random order and with times that collide:
/// work, many readings, corrections of what was said by anybody before, joinings of ids. One crew's clock is a day ahead.
/// </summary>
internal sealed class History
{
    /// <summary>The devices. A capital among small letters shows whether texts are put in order by their characters.</summary>
    public static readonly string[] Sources = ["urn:crew:north", "urn:crew:South", "urn:crew:hasty", "urn:office"];

    /// <summary>How far each device's clock is ahead.</summary>
    public static readonly TimeSpan[] ClockErrors = [TimeSpan.Zero, TimeSpan.Zero, TimeSpan.FromDays(1), TimeSpan.Zero];

    private static readonly DateTimeOffset Began = Device.Began;
    private readonly Dice dice;
    private readonly int[] numbers = new int[Sources.Length];
    private readonly List<Made> made = [];

    private History(int seed) => dice = new Dice(seed);

    /// <summary>What was recorded, and by which device.</summary>
    public IReadOnlyList<Made> All => made;

    /// <summary>Makes a history. A smaller size makes the first facts of the same one.</summary>
    public static History Make(int size, int seed)
    {
        History history = new(seed);
        while (history.made.Count < size) history.Add(history.Next());
        return history;
    }

    private void Add(IFact fact)
    {
        int device = dice.Below(Sources.Length);
        // Some readings go back over years: those of months are kept besides the newest. Nothing may lie ahead.
        int days = fact is ReadingTaken && dice.Once(2) ? 8 * dice.Below(90) : 0;
        DateTimeOffset at = Began.AddHours(dice.Below(40)).AddDays(-days) + ClockErrors[device];
        int number = ++numbers[device];
        made.Add(new Made(device, fact, SentEvent.Of(Sources[device], $"f{number}", number, at, fact)));
    }

    private IFact Next() => dice.Below(12) switch
    {
        0 when made.Where(each => each.Fact is not FactCorrected).ToArray() is { Length: > 0 } said => Correction(dice.Of(said)),
        1 when dice.Once(3) => Joining(dice.Of([ThingKind.Duct, ThingKind.Cable, ThingKind.Box])),
        2 or 3 or 4 => Reading(),
        _ => Work(),
    };

    private FactCorrected Correction(Made target)
    {
        FactCorrected withdrawal = new()
        {
            SiteId = target.Fact.SiteId,
            TargetSource = Sources[target.Device],
            TargetId = target.Event.Id,
            TargetType = FactTypes.NameOf(target.Fact.GetType()),
            Action = CorrectionAction.Withdraw,
            Reason = "It was not so.",
        };
        return target.Fact is ThingsJoined || dice.Once(2)
            ? withdrawal
            : withdrawal with { Action = CorrectionAction.Replace, Replacement = Facts.Json(OfType(target.Fact.GetType())) };
    }

    private IFact OfType(Type type)
    {
        while (true)
        {
            IFact fact = type == typeof(ReadingTaken) ? Reading() : Work();
            if (fact.GetType() == type) return fact;
        }
    }

    private ThingsJoined Joining(ThingKind kind)
    {
        string prefix = kind switch { ThingKind.Duct => "d", ThingKind.Cable => "c", _ => "b" };
        int kept = dice.Below(3);
        return Facts.Joined(kind, $"{prefix}{kept + 1}", $"{prefix}{(kept + 1 + dice.Below(2)) % 3 + 1}", Site());
    }

    private ReadingTaken Reading() => dice.Once(4)
        ? CircuitFacts.Reading(8 + dice.Below(60) / 10.0, place: ReadingPlaceKind.Box, placeId: dice.Id("b"), circuitId: dice.Id("k", 2), siteId: "s1")
        : CircuitFacts.Reading(8 + dice.Below(60) / 10.0, circuitId: dice.Id("k", 2), siteId: "s1");

    private IFact Work() => dice.Below(21) switch
    {
        0 => Facts.SiteOpened(Site(), dice.Id("Garden "), dice.Once(2) ? [new DuctCall { Service = dice.Word<DuctService>(), Wall = dice.Word<DuctWall>() }] : null),
        1 or 2 => Facts.DuctLaid(dice.Id("d"), dice.Word<DuctService>(), dice.Word<DuctColour>(), dice.Word<DuctWall>(), 20 + dice.Below(60), siteId: Site()),
        3 => Facts.DuctLabelled(dice.Id("d"), dice.Id("L"), dice.Once(2) ? dice.Word<RunEnd>() : null),
        4 => Facts.DuctPlugged(dice.Word<RunEnd>(), dice.Id("d")),
        5 => Facts.StringLeft(dice.Id("d"), dice.Word<StringMethod>(), dice.Once(2) ? 1 + dice.Below(30) : null),
        6 or 7 => Facts.CablePulled(
            dice.Id("c"), [.. Enumerable.Range(1, 3).Where(_ => dice.Once(2)).Select(number => $"d{number}")], 1 + dice.Below(80),
            cores: [Facts.Core("1", dice.Id("k", 2)), Facts.Core("2", dice.Once(2) ? dice.Id("k", 2) : null)],
            diameter: dice.Once(2) ? 5 + dice.Below(10) : null, siteId: Site()),
        8 => Facts.CableLabelled(dice.Id("c"), dice.Id("C"), dice.Once(2) ? dice.Word<RunEnd>() : null),
        9 => Facts.CoreSleeved(dice.Of(["1", "2", "3"]), dice.Word<CorePolarity>(), dice.Word<RunEnd>(), dice.Id("c")),
        10 => Facts.BoxSealed(dice.Id("b"), dice.Word<BoxLie>(), dice.Word<BoxEntry>(), dice.Once(2), dice.Once(2), dice.Once(2), siteId: Site()),
        11 => Facts.JointMade(
            dice.Id("b"), dice.Id("j"), dice.Id("k", 2), dice.Word<JointArrangement>(),
            [Facts.Connector(Facts.Held(dice.Of(["1", "2"]), dice.Id("c")), Facts.Lead(dice.Id("F")))]),
        12 or 13 => CircuitFacts.Designed(
            dice.Id("k", 2), driver: CircuitFacts.Driver(most: 10 + dice.Below(40)), siteId: Site(),
            fittings: [.. Enumerable.Range(1, 1 + dice.Below(3)).Select(number => CircuitFacts.Fitting($"F{number}", 1 + dice.Below(4)))],
            runs: [CircuitFacts.Run("R1", "driver", dice.Once(3) ? dice.Id("b") : "F1", 5 + dice.Below(60), cableId: dice.Once(2) ? dice.Id("c") : null)]),
        14 => CircuitFacts.Fixed(dice.Id("F"), dice.Once(2) ? 1 + dice.Below(4) : null, dice.Id("k", 2)),
        15 => CircuitFacts.Connected(dice.Once(2) ? CircuitFacts.Driver(most: 20 + dice.Below(40)) : null, dice.Id("k", 2)),
        16 => CircuitFacts.Energised(dice.Once(2) ? [dice.Id("F")] : null, dice.Id("k", 2)),
        17 => dice.Once(2) ? CircuitFacts.HandedOver(dice.Id("k", 2)) : CircuitFacts.Insulation(dice.Below(3), circuitId: dice.Id("k", 2)),
        18 => CircuitFacts.Fault(dice.Id("x", 2), circuitId: dice.Id("k", 2)),
        19 => Photo(dice.Of([(ThingKind.Duct, "d"), (ThingKind.Cable, "c"), (ThingKind.Box, "b")])),
        _ => CircuitFacts.Repair(dice.Once(2) ? [dice.Id("x", 2)] : null, circuitId: dice.Id("k", 2)),
    };

    private PhotoTaken Photo((ThingKind Kind, string Prefix) of) =>
        Facts.PhotoTaken(of.Kind, dice.Id(of.Prefix), new string((char)('a' + dice.Below(6)), 64), siteId: Site());

    private string Site() => dice.Once(6) ? "s2" : "s1";
}

/// <summary>A fact of a history.</summary>
/// <param name="Device">Place of its device among the sources.</param>
/// <param name="Fact">What happened.</param>
/// <param name="Event">The event.</param>
internal sealed record Made(int Device, IFact Fact, SentEvent Event);
