using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Calculations;
using FleetLight.Record.Circuits;
using FleetLight.Record.Designs;
using FleetLight.Record.Files;
using FleetLight.Record.OpenPoints;
using FleetLight.Record.Sites;
using FleetLight.Record.Works;

namespace FleetLight.Record.Handover;

/// <summary>What is asked of a pack.</summary>
public sealed record HandoverWish
{
    /// <summary>The site.</summary>
    public required string SiteId { get; init; }

    /// <summary>What had happened by then is told; all of it where absent.</summary>
    public DateTimeOffset? AsOf { get; init; }

    /// <summary>What was known by then is told; all of it where absent.</summary>
    public DateTimeOffset? KnownBy { get; init; }

    /// <summary>The moment: it gives the day of the pack where <see cref="AsOf"/> does not.</summary>
    public required DateTimeOffset Now { get; init; }

    /// <summary>How far the clock of days and times is ahead of UTC, min.</summary>
    public int OffsetMinutes { get; init; }

    /// <summary>How often things are looked after.</summary>
    public HandoverIntervals Every { get; init; } = HandoverIntervals.Default;

    /// <summary>How circuits are judged.</summary>
    public Judging Judging { get; init; } = Judging.Default;

    /// <summary>What the office calls the sources of facts.</summary>
    public IReadOnlyDictionary<string, string> Names { get; init; } = new Dictionary<string, string>();

    /// <summary>What people noted of the site's alerts, until the moments of <see cref="AsOf"/> and <see cref="KnownBy"/>; of one alert oldest first.</summary>
    public IReadOnlyList<HandoverNote> Notes { get; init; } = [];
}

/// <summary>
/// Makes a handover pack of the facts of a site and of all that its things lean on. It folds them itself, so the pack and the digest
/// over its facts cannot tell of different things, and a day of the past is told as it was.
/// </summary>
public static class HandoverMaker
{
    /// <summary>The pack; none where the facts know nothing of the site.</summary>
    /// <param name="facts">The facts, in any order; those of other sites among them are used where the site's things lean on them.</param>
    /// <param name="wish">What is asked for.</param>
    public static HandoverPack? Of(IEnumerable<RecordedFact> facts, HandoverWish wish)
    {
        ArgumentNullException.ThrowIfNull(facts);
        ArgumentNullException.ThrowIfNull(wish);
        var works = new MemoryWorks { Judging = wish.Judging };
        works.Take(facts.Where(fact => ThingFile.Stands(fact, wish.AsOf, wish.KnownBy)));
        var views = works.ViewsOfSite(wish.SiteId).Where(view => view.SameAs is null).ToList();
        if (views.Count == 0) return null;

        var days = new HandoverDays(wish.OffsetMinutes);
        var day = days.Of(wish.AsOf ?? wish.Now);
        var site = views.OfType<SiteView>().FirstOrDefault();
        DuctView[] ducts = [.. Named(views.OfType<DuctView>(), duct => LabelOf(duct.Labels))];
        CableView[] cables = [.. Named(views.OfType<CableView>(), cable => LabelOf(cable.Labels))];
        BoxView[] boxes = [.. Named(views.OfType<BoxView>(), box => box.Label)];
        var designs = new Dictionary<string, CircuitDesigned>(StringComparer.Ordinal);
        foreach (var circuit in views.OfType<CircuitView>())
            if (RecordedDesign.Of(works.FileOf(new(ThingKind.Circuit, circuit.Id))) is { } design) designs[circuit.Id] = design;
        HandoverCircuit[] circuits =
        [
            .. Named(views.OfType<CircuitView>(), circuit => circuit.Name).Select(circuit => CircuitPack.Of(works, circuit, designs.GetValueOrDefault(circuit.Id), days)),
        ];
        var points = OpenPointList.Of(new SiteStates
        {
            SiteId = wish.SiteId,
            Site = site,
            Ducts = ducts,
            Cables = cables,
            Boxes = boxes,
            Circuits = [.. circuits.Select(circuit => circuit.State)],
            Designs = designs,
        });
        var open = points.Points.OrderBy(point => point.Phase).ThenByDescending(point => point.Severity).ThenBy(point => point.Key, StringComparer.Ordinal)
            .Select(point => point with { TicksOff = [] }).ToList();
        Finding[] alerts =
        [
            .. views.SelectMany(view => view.Findings).OrderByDescending(finding => finding.Severity).ThenBy(finding => finding.Rule, StringComparer.Ordinal)
                .ThenBy(finding => finding.Subject.Kind).ThenBy(finding => finding.Subject.Id, StringComparer.Ordinal).ThenBy(finding => finding.Cause, StringComparer.Ordinal),
        ];
        var hasMains = circuits.Any(circuit => circuit.MainsSide) || ducts.Any(duct => duct.Service == DuctService.MainsSupply);
        var maintenance = MaintenancePlan.Of(circuits, ducts, boxes, days, day, wish.Every);
        return new HandoverPack
        {
            SiteId = wish.SiteId,
            Name = site?.Name,
            Place = site?.Place,
            OpenedAt = site?.OpenedAt,
            AsOf = wish.AsOf,
            Day = day,
            OffsetMinutes = wish.OffsetMinutes,
            CommissionedOn = circuits.Length > 0 && circuits.All(circuit => circuit.CommissionedOn is not null) ? circuits.Max(circuit => circuit.CommissionedOn) : null,
            Summary = PlainSummary.Of(ducts, cables, boxes, circuits, alerts, open, maintenance, hasMains),
            Ducts = [.. ducts.Select(Bare)],
            Cables = [.. cables.Select(Bare)],
            Boxes = [.. boxes.Select(Bare)],
            Circuits = [.. circuits.Select(circuit => circuit with { State = Bare(circuit.State) })],
            Limits = LimitsOf(wish.Judging, circuits),
            Maintenance = maintenance,
            OpenPoints = open,
            Reminders = points.Reminders,
            Alerts = alerts,
            Notes = [.. alerts.SelectMany(alert => wish.Notes.Where(note => note.Rule == alert.Rule && note.Subject == alert.Subject && note.Cause == alert.Cause))],
            Cautions = Cautions.Of(hasMains),
            Recorders = Recorders(works.Facts, wish.Names),
            Digest = FactRoll.Of(works.Facts),
        };
    }

    /// <summary>What people call a duct or cable: its label at the near end, else at the far one.</summary>
    public static string? LabelOf(IReadOnlyDictionary<RunEnd, string>? labels) =>
        labels is null ? null : labels.GetValueOrDefault(RunEnd.Near) ?? labels.GetValueOrDefault(RunEnd.Far);

    private static IEnumerable<T> Named<T>(IEnumerable<T> views, Func<T, string?> name) where T : ThingView =>
        views.OrderBy(view => name(view) ?? view.Id, NaturalOrder.Comparer).ThenBy(view => view.Id, StringComparer.Ordinal);

    // Findings stand in the pack's own list, and facts in its digest.
    private static T Bare<T>(T view) where T : ThingView => view with { Facts = [], Findings = [] };

    private static HandoverLimits LimitsOf(Judging judging, IReadOnlyList<HandoverCircuit> circuits) => new()
    {
        SettingsVersion = judging.Version,
        ModelVersions = [.. circuits.SelectMany(circuit => circuit.Readings).Select(each => each.Reading.ModelVersion).Distinct().Order()],
        Rule = AsRequested.Rule(judging.Rule),
        Assumptions = AsRequested.Assumed(judging.Assumptions),
    };

    private static HandoverRecorder[] Recorders(IEnumerable<RecordedFact> facts, IReadOnlyDictionary<string, string> names) =>
    [
        .. facts.GroupBy(fact => fact.Of.Source, StringComparer.Ordinal).OrderBy(group => group.Key, StringComparer.Ordinal).Select(group => new HandoverRecorder
        {
            Source = group.Key,
            Name = names.GetValueOrDefault(group.Key),
            Facts = group.Count(),
            FactsByType = new SortedDictionary<string, int>(
                group.GroupBy(fact => FactTypes.NameOf(fact.Data.GetType())).ToDictionary(type => type.Key, type => type.Count()), StringComparer.Ordinal),
            FirstAt = group.Min(fact => fact.Of.HappenedAt),
            LastAt = group.Max(fact => fact.Of.HappenedAt),
            DoubtfulTimes = group.Count(fact => fact.Of.TimeDoubt is not null),
        }),
    ];
}
