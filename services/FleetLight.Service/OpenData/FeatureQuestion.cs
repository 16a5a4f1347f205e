using FleetLight.OpenData.Cql;
using FleetLight.OpenData.Features;

namespace FleetLight.Service.OpenData;

/// <summary>What is asked of a collection.</summary>
/// <param name="Kind">The collection.</param>
/// <param name="Test">The filter, in longitude and latitude; every feature if null.</param>
/// <param name="SiteId">Only features of this site; of all if null.</param>
public sealed record FeatureQuestion(FeatureKind Kind, CqlTest? Test, string? SiteId = null)
{
    /// <summary>What an index can be asked.</summary>
    public CqlBounds Bounds { get; } = CqlBounds.Of(Test, Kind);

    /// <summary>Whether a feature is asked for.</summary>
    public bool Finds(FeatureRow row) => Test is null || CqlEvaluator.Ask(Test, Kind, row) is true;
}

/// <summary>A feature with the key behind which the next one is looked for.</summary>
/// <param name="Key">The key.</param>
/// <param name="Row">The feature; none where the key says only how far was looked.</param>
public sealed record Keyed(string Key, FeatureRow? Row);

/// <summary>Gives features in an order that does not change.</summary>
public interface IFeatureSource
{
    /// <summary>Features after a key that may answer the question, in the order of their keys; fewer than asked for only at the end.</summary>
    Task<IReadOnlyList<Keyed>> AfterAsync(FeatureQuestion question, string after, int most, CancellationToken cancel);

    /// <summary>The same backwards: features up to a key, that one too, the last first.</summary>
    Task<IReadOnlyList<Keyed>> UntilAsync(FeatureQuestion question, string until, int most, CancellationToken cancel);

    /// <summary>How many features answer the question, where the store can count that; at most the bound, beyond which it is not counted.</summary>
    Task<long?> CountAsync(FeatureQuestion question, int bound, CancellationToken cancel);

    /// <summary>Whether at most so many features may answer the question, so that each can be asked.</summary>
    Task<bool> AreFewAsync(FeatureQuestion question, int bound, CancellationToken cancel);

    /// <summary>One feature.</summary>
    Task<FeatureRow?> FindAsync(FeatureKind kind, string id, CancellationToken cancel);
}
