using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Corrections;
using FleetLight.Record.Files;
using FleetLight.Record.Positions;
using FleetLight.Record.Rules;

namespace FleetLight.Record.Boxes;

/// <summary>Folds the facts of a box into its state.</summary>
public static class BoxFold
{
    private static readonly Disagreement<BoxSealed> Differs = new(
        ("lie", box => Words.Of(box.Lie)),
        ("cable entry", box => Words.Of(box.Entry)));

    /// <summary>The state of a box.</summary>
    /// <param name="file">Its file.</param>
    /// <param name="sameThings">The files of ids joined to it, directly or through others.</param>
    /// <param name="networkOf">The reference points of a site; none are known where absent.</param>
    public static BoxView Fold(ThingFile file, IReadOnlyList<ThingFile> sameThings, Func<string, ReferenceNetwork>? networkOf = null)
    {
        var history = ThingHistory.Of(file, sameThings);
        var state = Read(history);
        var seals = history.All<BoxSealed>();
        Differs.AddTo(seals, history.Contradictions);
        if (state.Sealed is null) history.Waiting.Add("It waits for the fact that this box was closed.");
        var box = state.Sealed?.Data;
        var main = history.SameAs is null;
        var place = history.PlaceOf(
            seals.Select(seal => MeasuredPlace.Of(seal, seal.Data.Position)), _ => true, networkOf);
        return new BoxView
        {
            Id = file.Id,
            SiteId = history.SiteId,
            SameAs = history.SameAs,
            WaitingFor = main ? history.Waiting : [],
            Contradictions = history.Contradictions,
            Findings = main ? RuleBook.FindOn(state) : [],
            Facts = history.Lines(),
            Lie = box?.Lie,
            Entry = box?.Entry,
            StrainRelief = box?.StrainRelief,
            GelFilled = box?.GelFilled,
            Breathing = box?.Breathing,
            // Closed again after a repair, a box keeps the name and place that were said before.
            Label = seals.FindLast(seal => seal.Data.Label is not null)?.Data.Label,
            Position = place.Position,
            Placement = place.Placement,
            Placements = place.Placements,
            SealedAt = state.Sealed?.At,
            Joints = [.. state.Joints.Select(View)],
        };
    }

    private static BoxState Read(ThingHistory history)
    {
        var newest = new Dictionary<string, Counted<JointMade>>(StringComparer.Ordinal);
        foreach (var joint in history.All<JointMade>()) newest[joint.Data.JointId] = joint;
        Counted<JointMade>[] joints = [.. newest.Values.OrderBy(joint => joint.Data.JointId, StringComparer.Ordinal)];
        return new BoxState
        {
            Subject = history.Subject,
            Sealed = history.Newest<BoxSealed>(),
            Joints = joints,
            CircuitIds =
            [
                .. joints.Select(joint => joint.Data.CircuitId)
                    .Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal),
            ],
        };
    }

    private static JointView View(Counted<JointMade> joint) => new()
    {
        JointId = joint.Data.JointId,
        CircuitId = joint.Data.CircuitId,
        Arrangement = joint.Data.Arrangement,
        ConductorsPerConnector = [.. joint.Data.Connectors.Select(connector => connector.Conductors.Length)],
        UnderFitting = joint.Data.UnderFitting,
    };
}
