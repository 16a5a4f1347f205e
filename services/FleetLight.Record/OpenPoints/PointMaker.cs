using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;

namespace FleetLight.Record.OpenPoints;

/// <summary>Makes the points of one thing, each finding of a rule taken into one of them.</summary>
/// <param name="kind">Kind of the thing.</param>
/// <param name="view">Its state.</param>
/// <param name="label">What people call it.</param>
/// <param name="into">Takes the points.</param>
internal sealed class PointMaker(ThingKind kind, ThingView view, string label, ICollection<OpenPoint> into)
{
    private readonly List<Finding> left = [.. view.Findings.Where(finding => !RulePhases.SaidOtherwise.Contains(finding.Rule))];

    /// <summary>The circuits that the thing's findings touch, for points without a finding.</summary>
    public IReadOnlyList<string> Circuits { get; init; } = [];

    /// <summary>Takes the finding of a rule, so that it makes no point of its own.</summary>
    public Finding? Take(string rule, string? cause = null)
    {
        var found = Find(rule, cause);
        if (found is not null) left.Remove(found);
        return found;
    }

    /// <summary>The finding of a rule, which may be taken into several points; <see cref="Take"/> is to follow.</summary>
    public Finding? Find(string rule, string? cause = null) =>
        left.Find(finding => finding.Rule == rule && (cause is null || finding.Cause == cause));

    /// <summary>Adds a point.</summary>
    public void Add(
        string what, string missing, string remedy, WorkPhase phase, IReadOnlyList<TickOff> ticks, IReadOnlyList<Finding>? found = null,
        string? part = null, string? place = null, GeoPoint? position = null)
    {
        found ??= [];
        into.Add(new OpenPoint
        {
            Key = $"{Files.Words.Of(kind)}:{view.Id}:{what}",
            Thing = new(kind, view.Id),
            Label = label,
            Part = part,
            Place = place,
            Position = position,
            Missing = missing,
            Remedy = remedy,
            Phase = phase,
            Severity = found.Count == 0 ? AlertSeverity.Notice : found.Max(finding => finding.Severity),
            Rules = [.. found.Select(finding => finding.Rule).Distinct().Order(StringComparer.Ordinal)],
            CircuitIds = found.Count == 0
                ? Circuits
                : [.. found.SelectMany(finding => finding.CircuitIds).Distinct().Order(StringComparer.Ordinal)],
            TicksOff = ticks,
        });
    }

    /// <summary>Adds a point for each finding that no other point took.</summary>
    public void AddRest(Func<Finding, IReadOnlyList<TickOff>>? ticks = null, string? place = null, GeoPoint? position = null)
    {
        foreach (var finding in left)
        {
            Add(
                finding.Cause.Length == 0 ? finding.Rule : $"{finding.Rule}:{finding.Cause}", finding.Reason, finding.Remedy,
                RulePhases.Of(finding.Rule), ticks?.Invoke(finding) ?? [], [finding], finding.Cause.Length == 0 ? null : finding.Cause,
                place, position);
        }
    }
}
