using FleetLight.Contracts;
using FleetLight.Contracts.Views;

namespace FleetLight.PageParts.History;

/// <summary>A line of the tale of a thing: what was recorded, when, by whom, and what is left of it.</summary>
public sealed record FactTale
{
    /// <summary>The fact, <c>source#id</c>.</summary>
    public required string Fact { get; init; }

    /// <summary>What it says, in plain words.</summary>
    public required string Says { get; init; }

    /// <summary>When it happened.</summary>
    public required DateTimeOffset HappenedAt { get; init; }

    /// <summary>When it was known.</summary>
    public required DateTimeOffset RecordedAt { get; init; }

    /// <summary>Who recorded it.</summary>
    public required string By { get; init; }

    /// <summary>What is left of it.</summary>
    public required FactStanding Standing { get; init; }

    /// <summary>What became of it, in plain words; none where it counts as sent.</summary>
    public string? Became { get; init; }

    /// <summary>What is doubtful about its time, in plain words; none where nothing is.</summary>
    public string? Doubt { get; init; }

    /// <summary>Whether it counts for nothing as it was sent.</summary>
    public bool IsOver => Standing is FactStanding.Withdrawn or FactStanding.Replaced;

    /// <summary>The lines of facts, the oldest first.</summary>
    /// <param name="facts">The facts.</param>
    /// <param name="whois">The name of a device by its source; the last part of the source stands for it where there is none.</param>
    public static IReadOnlyList<FactTale> Of(IEnumerable<FactView> facts, Func<string, string?>? whois = null)
    {
        ArgumentNullException.ThrowIfNull(facts);
        return [.. facts.OrderBy(fact => fact.HappenedAt).ThenBy(fact => fact.Source, StringComparer.Ordinal).ThenBy(fact => fact.RunningNumber).Select(fact => Of(fact, whois))];
    }

    /// <summary>The lines of facts as a state names them, the oldest first: without what each says in full.</summary>
    public static IReadOnlyList<FactTale> Of(IEnumerable<FactLine> lines, Func<string, string?>? whois = null)
    {
        ArgumentNullException.ThrowIfNull(lines);
        return [.. lines.Select(line => new FactTale
        {
            Fact = line.Fact,
            Says = FactSummary.TypeSaid(line.Type),
            HappenedAt = line.HappenedAt,
            RecordedAt = line.RecordedAt,
            By = SourceOf(line.Fact) is var source && whois?.Invoke(source) is { } name ? name : DeviceOf(source),
            Standing = line.Corrected switch
            {
                CorrectionAction.Withdraw => FactStanding.Withdrawn,
                CorrectionAction.Replace => FactStanding.Replaced,
                _ => FactStanding.Counts,
            },
            Became = line.Corrected switch
            {
                CorrectionAction.Withdraw => $"Withdrawn: {line.CorrectionReason}",
                CorrectionAction.Replace => $"Replaced: {line.CorrectionReason}",
                _ => null,
            },
        })];
    }

    /// <summary>Who recorded, by the source, where nobody knows its name.</summary>
    public static string DeviceOf(string source)
    {
        ArgumentNullException.ThrowIfNull(source);
        const string office = "urn:fleetlight:office:";
        if (source.StartsWith(office, StringComparison.Ordinal)) return "the office";
        return source.Split(':', '/')[^1] is { Length: > 0 } last ? last : source;
    }

    private static FactTale Of(FactView fact, Func<string, string?>? whois) => new()
    {
        Fact = fact.Fact,
        Says = FactSummary.Of(fact.Type, fact.Data),
        HappenedAt = fact.HappenedAt,
        RecordedAt = fact.RecordedAt,
        By = whois?.Invoke(fact.Source) ?? DeviceOf(fact.Source),
        Standing = fact.Standing,
        Became = BecameOf(fact, whois),
        Doubt = fact.TimeDoubt is { } doubt ? $"Its time is doubtful ({Record.Files.Words.Of(doubt).Replace('-', ' ')}): the moment it came in orders it." : null,
    };

    private static string? BecameOf(FactView fact, Func<string, string?>? whois) => (fact.Standing, fact.CorrectedBy) switch
    {
        (FactStanding.Withdrawn, { } by) => $"Withdrawn by {Who(by, whois)}: {by.Reason}",
        (FactStanding.Replaced, { } by) => $"Replaced by {Who(by, whois)}: {by.Reason}{(by.Data is { } data ? $" Counts instead: {FactSummary.Of(fact.Type, data)}." : "")}",
        (FactStanding.Waiting, _) => "Waits: the fact that it corrects is not known yet.",
        (FactStanding.Overruled, _) => "Does not count: a newer correction does, or it does not fit its fact.",
        _ => null,
    };

    private static string SourceOf(string fact) => fact[..Math.Max(0, fact.LastIndexOf('#'))];

    private static string Who(CorrectedBy by, Func<string, string?>? whois)
    {
        var source = SourceOf(by.Fact);
        return whois?.Invoke(source) ?? DeviceOf(source);
    }
}
