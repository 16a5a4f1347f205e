using FleetLight.Contracts;
using FleetLight.Contracts.Views;

namespace FleetLight.Record.Works;

/// <summary>
/// Works out whose state must be folded again when the files of some things changed, and no more than that. It asks for
/// links in a few rounds and leaves the looking up to the caller, so that memory and a database answer it alike.
/// </summary>
/// <remarks>
/// <para>The rounds are fixed: what the ids are joined with; the ducts of changed sites and cables, and what was
/// measured from the sites' reference points; the cables in
/// changed ducts; the circuits on all of these. A plain walk along every link would reach the whole site through one
/// trunk duct.</para>
/// <para>Usage: while <see cref="Asks"/> is not empty, look up the links of those things and hand them to
/// <see cref="Answer"/>; then <see cref="Things"/> and <see cref="CircuitIds"/> are whole.</para>
/// </remarks>
public sealed class Reach
{
    private readonly HashSet<ThingRef> things = [];
    private readonly HashSet<ThingRef> passed = [];
    private readonly HashSet<string> circuits = new(StringComparer.Ordinal);
    private readonly HashSet<LinkAsk> asked = [];
    private readonly List<LinkAsk> asks = [];

    /// <summary>Starts from the things whose files changed.</summary>
    public Reach(IEnumerable<ThingRef> changed)
    {
        foreach (var thing in changed) Fold(thing);
    }

    /// <summary>The links to look up next; empty when all is known.</summary>
    public IReadOnlyList<LinkAsk> Asks => asks;

    /// <summary>The sites, ducts, cables and boxes to fold again.</summary>
    public IReadOnlyCollection<ThingRef> Things => things;

    /// <summary>The circuits to judge again.</summary>
    public IReadOnlyCollection<string> CircuitIds => circuits;

    /// <summary>Takes the answer to <see cref="Asks"/>.</summary>
    /// <param name="answers">Each question with the things at the other end of its links.</param>
    public void Answer(IEnumerable<(LinkAsk Ask, IReadOnlyCollection<ThingRef> Others)> answers)
    {
        asks.Clear();
        foreach (var (ask, others) in answers)
            foreach (var other in others)
                if (other.Kind == ask.Kind) Take(ask, other);
    }

    private void Take(LinkAsk ask, ThingRef other)
    {
        if (other.Kind == ThingKind.Circuit) circuits.Add(other.Id);
        else if (ask is { Thing.Kind: ThingKind.Duct, Kind: ThingKind.Cable }) Pass(other);
        else if (passed.Contains(ask.Thing)) Pass(other);
        else Fold(other);
    }

    private void Fold(ThingRef thing)
    {
        if (thing.Kind == ThingKind.Circuit)
        {
            circuits.Add(thing.Id);
            return;
        }

        if (!things.Add(thing)) return;
        // Passed before: what it is joined with was passed as well and must now be folded.
        if (passed.Remove(thing)) asked.Remove(new LinkAsk(thing, ThingKind.Cable, false));
        switch (thing.Kind)
        {
            case ThingKind.Site:
                Ask(thing, ThingKind.Duct);
                Ask(thing, ThingKind.Cable);
                Ask(thing, ThingKind.Box);
                Ask(thing, ThingKind.Circuit);
                break;
            case ThingKind.Duct:
                Ask(thing, ThingKind.Duct);
                Ask(thing, ThingKind.Cable);
                break;
            case ThingKind.Cable:
                Ask(thing, ThingKind.Cable);
                Ask(thing, ThingKind.Duct, backwards: true);
                Ask(thing, ThingKind.Circuit);
                break;
            default:
                Ask(thing, ThingKind.Box);
                Ask(thing, ThingKind.Circuit);
                break;
        }
    }

    // A cable in a changed duct keeps its own state; only its circuits are judged again.
    private void Pass(ThingRef cable)
    {
        if (things.Contains(cable) || !passed.Add(cable)) return;
        Ask(cable, ThingKind.Cable);
        Ask(cable, ThingKind.Circuit);
    }

    private void Ask(ThingRef thing, ThingKind kind, bool backwards = false)
    {
        var ask = new LinkAsk(thing, kind, backwards);
        if (asked.Add(ask)) asks.Add(ask);
    }
}

/// <summary>A question for links.</summary>
/// <param name="Thing">The thing at the known end.</param>
/// <param name="Kind">Kind of the things at the other end.</param>
/// <param name="Backwards">
/// False for the things that lean on it (its links' <c>To</c>), true for those that it leans on (their <c>From</c>).
/// </param>
public sealed record LinkAsk(ThingRef Thing, ThingKind Kind, bool Backwards);
