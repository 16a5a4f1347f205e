using System.Globalization;
using System.Text.Json;
using FleetLight.Contracts.Views;
using FleetLight.Demo.Works;

namespace FleetLight.Demo.Reporting;

/// <summary>What was found of something planted.</summary>
/// <param name="Found">Whether a rule meant for it raised an alert on the very thing, and its readings got the verdict due.</param>
/// <param name="Says">What FleetLight says of it.</param>
internal sealed record Finds(bool Found, string Says)
{
    /// <summary>Looks for it in the answers.</summary>
    public static Finds Of(Plant plant, Answers answers)
    {
        var alerts = answers.Alerts.Where(alert => alert.Finding.Subject == plant.Subject).ToArray();
        var meant = alerts.FirstOrDefault(alert => plant.Rules.Contains(alert.Finding.Rule));
        var lines = new List<string>
        {
            meant is null
                ? $"no alert {string.Join(" or ", plant.Rules)}"
                : $"{meant.Finding.Rule} ({Word(meant.Finding.Severity)}): {meant.Finding.Reason}",
        };
        if (alerts.Select(alert => alert.Finding.Rule).Where(rule => rule != meant?.Finding.Rule).Distinct().ToArray() is { Length: > 0 } more)
            lines.Add($"also {string.Join(", ", more)}");
        var right = true;
        if (plant.Verdict is { } due)
        {
            var view = answers.Planted.GetValueOrDefault(plant.CircuitId);
            right = view?.Verdict == due;
            lines.Add($"verdict {Word(view?.Verdict ?? CircuitVerdict.Unread)}{(right ? "" : $", {Word(due)} was due")}");
            if (view is not null) lines.AddRange(Explain(plant, view.Explanations));
        }

        return new Finds(meant is not null && right, string.Join('\n', lines));
    }

    private static IEnumerable<string> Explain(Plant plant, IReadOnlyList<ExplanationView> explanations)
    {
        if (explanations.Count == 0) yield break;
        yield return $"leading explanation ({Percent(explanations[0])}): {explanations[0].Says}";
        if (plant.Fault is null || explanations[0].Fault == plant.Fault) yield break;
        var place = 1 + explanations.TakeWhile(each => each.Fault != plant.Fault).Count();
        yield return place > explanations.Count
            ? $"the truth, {plant.Fault}, is not among the {explanations.Count} explanations"
            : $"the truth is explanation {place} of {explanations.Count} ({Percent(explanations[place - 1])}): {explanations[place - 1].Says}";
    }

    private static string Percent(ExplanationView explanation) =>
        (explanation.Likelihood * 100).ToString("0", CultureInfo.InvariantCulture) + " %";

    /// <summary>A word of an enumeration as the service writes it.</summary>
    public static string Word<T>(T value) where T : struct, Enum => JsonNamingPolicy.KebabCaseLower.ConvertName(value.ToString());
}
