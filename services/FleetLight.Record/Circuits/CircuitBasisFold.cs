using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Electrics;
using FleetLight.Record.Corrections;
using FleetLight.Record.Files;
using FleetLight.Record.Positions;
using FleetLight.Record.Rules;
using FleetLight.Record.Works;

namespace FleetLight.Record.Circuits;

/// <summary>Folds the facts of a circuit and the states around it into its basis.</summary>
public static class CircuitBasisFold
{
    /// <summary>The basis of a circuit.</summary>
    /// <param name="file">Its file.</param>
    /// <param name="neighbours">The states of what it leans on.</param>
    /// <param name="judging">How the organisation wants it judged; the stated defaults if null.</param>
    /// <param name="networkOf">The reference points of a site; none are known where absent.</param>
    public static CircuitBasis Fold(ThingFile file, CircuitNeighbours neighbours, Judging? judging = null, Func<string, ReferenceNetwork>? networkOf = null)
    {
        var history = ThingHistory.Of(file, []);
        var cables = new ById<CableView>(neighbours.Cables);
        var boxes = new ById<BoxView>(neighbours.Boxes);
        var state = CircuitReader.Read(history);
        CircuitReader.AddDoubts(state, history);
        var design = state.Design?.Data;
        var cableIds = CableIds(file.Id, design, cables);
        List<CableView> ownCables = [.. cableIds.Select(cables.Find).OfType<CableView>()];
        var phases = new Phases(state, history.First()?.At, cables, ownCables);
        var model = design is null || state.Driver is null
            ? null
            : AsBuilt.Model(design, state.Driver, state.Fixed, cables, boxes);
        var outcome = model is null ? null : Electrics.Expected.Of(model, (judging ?? Judging.Default).Assumptions);
        state = state with
        {
            Expected = outcome is ExpectedReadings reads ? ExpectedList.WithoutBudgets(reads) : null,
            Refusal = outcome as CannotExpect,
            Gaps = phases.Gaps,
        };
        var seen = OtherEvidence.Of(state);
        var boxIds = BoxIds(file.Id, design, boxes);
        var ducts = Ducts(ownCables, new ById<DuctView>(neighbours.Ducts));
        // A cable that is not pulled yet is missing for the next phase; a duct that holds one must have been laid.
        foreach (var (id, duct) in ducts)
            if (duct?.Service is null) history.Waiting.Add($"It waits for the fact that duct {id} was laid.");
        var connected = history.Newest<DriverConnected>();
        var driver = history.PlaceOf(
            history.All<DriverConnected>().Select(fact => MeasuredPlace.Of(fact, fact.Data.Position)), place => place.FittingId is null, networkOf);
        return new CircuitBasis
        {
            Id = file.Id,
            SiteId = history.SiteId,
            Name = design?.Name,
            Drive = design?.Drive,
            Phase = phases.Phase,
            PhaseReachedAt = phases.Reached,
            Missing = phases.Missing,
            ProvableAt = phases.ProvableAt,
            ModelVersion = Electrics.Expected.ModelVersion,
            Ground = JudgedOn.Of(model, state, judging),
            Judging = judging is { Version: > 0 } ? judging : null,
            Model = model,
            Reads = state.Expected,
            Refusal = state.Refusal,
            Headroom = HeadroomOf(state.Expected, model?.Driver),
            Fittings = Fittings(state, history, networkOf),
            Tests = [.. state.Tests.Select(test => test.View)],
            CableIds = cableIds,
            BoxIds = boxIds,
            BoxAliases = Aliases(boxes, boxIds),
            Places = model is null ? null : MeasuringPlaces.Of(model, boxIds, boxes),
            LookedAt = seen.LookedAt,
            Dark = seen.Dark,
            InsulationMegohms = seen.InsulationMegohms,
            Insulation = InsulationEntry.Of(history),
            SpareCores = ownCables.Sum(cable => cable.SpareCores),
            OpenFaults = [.. state.OpenFaults.Select(fault => fault.Data.FaultId)],
            LastRepairAt = state.LastRepair?.At,
            LastRepair = state.LastRepair?.Key,
            Works = WorkDone.Of(history, state.FirstEnergised?.At) is { Count: > 0 } works ? works : null,
            DesignChangedAt = state.DesignChangedAt,
            DriverPosition = driver.Placement is null ? connected?.Data.Position ?? driver.Position : driver.Position,
            DriverPlacement = driver.Placement,
            DriverPlacements = driver.Placements,
            DriverAt = connected?.Data.At,
            DriverEvidence = state.DriverEvidence,
            WaitingFor = history.Waiting,
            Contradictions = history.Contradictions,
            Findings = RuleBook.FindOn(state),
            OpenPoints = OpenPoints(file.Id, ownCables, ducts.Values, boxIds.Select(boxes.Find).OfType<BoxView>()),
            Facts = history.Lines(),
        };
    }

    // Its cables are those that its design names, pulled or not, and those whose cores carry it.
    private static List<string> CableIds(string circuit, CircuitDesigned? design, ById<CableView> cables)
    {
        var named = (design?.Runs ?? []).Select(run => run.CableId).OfType<string>().Select(cables.Resolve);
        var carrying = cables.Kept
            .Where(cable => cable.Cores.Any(core => core.CircuitId == circuit))
            .Select(cable => cable.Id);
        return [.. named.Concat(carrying).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)];
    }

    private static List<string> BoxIds(string circuit, CircuitDesigned? design, ById<BoxView> boxes)
    {
        var jointed = boxes.Kept
            .Where(box => box.Joints.Any(joint => joint.CircuitId == circuit))
            .Select(box => box.Id);
        var designed = design is null ? [] : Routing.BoxesOf(design).Select(boxes.Resolve);
        return [.. jointed.Concat(designed).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)];
    }

    private static SortedDictionary<string, string>? Aliases(ById<BoxView> boxes, List<string> boxIds)
    {
        SortedDictionary<string, string>? aliases = null;
        foreach (var (id, kept) in boxes.Aliases)
            if (boxIds.Contains(kept)) (aliases ??= new(StringComparer.Ordinal))[id] = kept;
        return aliases;
    }

    // The ducts that its cables pass, by id; none where nothing is known of a duct.
    private static SortedDictionary<string, DuctView?> Ducts(List<CableView> cables, ById<DuctView> ducts)
    {
        var passed = new SortedDictionary<string, DuctView?>(StringComparer.Ordinal);
        foreach (var id in cables.SelectMany(cable => cable.DuctIds)) passed[ducts.Resolve(id)] = ducts.Find(id);
        return passed;
    }

    private static List<FittingView> Fittings(CircuitState state, ThingHistory history, Func<string, ReferenceNetwork>? networkOf)
    {
        List<FittingView> fittings = [];
        var places = history.All<FittingFixed>().ToLookup(fact => fact.Data.FittingId, fact => MeasuredPlace.Of(fact, fact.Data.Position), StringComparer.Ordinal);
        foreach (var fitting in state.Design?.Data.Fittings ?? [])
        {
            var watts = AsBuilt.Watts(fitting, state.Fixed);
            var isFixed = state.Fixed.TryGetValue(fitting.FittingId, out var known);
            var place = history.PlaceOf(places[fitting.FittingId], measured => measured.FittingId == fitting.FittingId, networkOf);
            fittings.Add(new FittingView
            {
                FittingId = fitting.FittingId,
                RatedWatts = watts,
                DesignedWatts = watts == fitting.RatedWatts ? null : fitting.RatedWatts,
                Fixed = isFixed,
                Position = place.Placement is null ? known?.Data.Position ?? place.Position : place.Position,
                Placement = place.Placement,
                Placements = place.Placements,
            });
        }

        return fittings;
    }

    private static HeadroomView? HeadroomOf(ExpectedReadings? expected, DriverModel? model)
    {
        if (expected is not { } reads || model is null) return null;
        var isCurrent = reads.Drive == DriveKind.ConstantCurrent;
        var left = DriverHeadroom.Of(model, reads);
        return new HeadroomView
        {
            VoltsLoadPercent = isCurrent ? Rounded(reads.Loading.PercentOfMostVolts) : null,
            WattsLoadPercent = Rounded(reads.Loading.PercentOfMostWatts),
            VoltsLeft = Rounded(left.VoltsDc),
            WattsLeft = Rounded(left.Watts),
            NearLimit = reads.Notes.Any(note => note.Code == NoteCode.DriverNearLimit),
        };
    }

    private static double? Rounded(double? value) => value is { } known ? Math.Round(known, 2) : null;

    private static IReadOnlyList<string> OpenPoints(
        string circuit, List<CableView> cables, IEnumerable<DuctView?> ducts, IEnumerable<BoxView> boxes) =>
    [
        .. cables.SelectMany(cable => cable.Findings)
            .Concat(ducts.OfType<DuctView>().SelectMany(duct => duct.Findings))
            .Concat(boxes.SelectMany(box => box.Findings))
            .Where(finding => finding.CircuitIds.Count == 0 || finding.CircuitIds.Contains(circuit))
            .Select(finding => finding.Rule)
            .Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal),
    ];
}
