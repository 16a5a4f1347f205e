using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Files;

namespace FleetLight.Record.Corrections;

/// <summary>A fact that counts, with what is known of its origin.</summary>
/// <typeparam name="T">Type of the fact.</typeparam>
/// <param name="Data">What counts: the fact's own data or what replaced it.</param>
/// <param name="Fact">The fact as recorded; its time and place in the order count.</param>
public sealed record Counted<T>(T Data, RecordedFact Fact)
    where T : IFact
{
    /// <summary>When it happened.</summary>
    public DateTimeOffset At => Fact.Of.HappenedAt.ToUniversalTime();

    /// <summary>The fact as evidence, <c>source#id</c>.</summary>
    public string Key => FactKey.Of(Fact.Of);
}
