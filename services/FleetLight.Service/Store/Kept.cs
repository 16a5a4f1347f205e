using System.Collections.Frozen;
using System.Reflection;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;
using JasperFx.Events;

namespace FleetLight.Service.Store;

/// <summary>A fact as an event of the store.</summary>
public interface IKept
{
    /// <summary>Who says so, and when.</summary>
    FactOrigin Of { get; }

    /// <summary>What happened.</summary>
    IFact Fact { get; }

    /// <summary>The trace of the request that handed it in (W3C Trace Context), where that was traced.</summary>
    string? Trace { get; }
}

/// <summary>A fact of one type as an event of the store; its stored name is the name under which the fact travels.</summary>
/// <typeparam name="T">The type of fact.</typeparam>
/// <param name="Of">Who says so, and when.</param>
/// <param name="Data">What happened.</param>
public sealed record Kept<T>(FactOrigin Of, T Data) : IKept where T : class, IFact
{
    IFact IKept.Fact => Data;

    /// <inheritdoc/>
    public string? Trace { get; init; }
}

/// <summary>Makes the event of the store for a fact whose type is known at run time only.</summary>
public static class Keep
{
    private delegate object Maker(Guid id, FactOrigin of, IFact data, string? trace);

    private static readonly FrozenDictionary<Type, Maker> Makers = FactTypes.All.ToFrozenDictionary(
        pair => pair.Value,
        pair => typeof(Keep).GetMethod(nameof(Make), BindingFlags.NonPublic | BindingFlags.Static)!
            .MakeGenericMethod(pair.Value).CreateDelegate<Maker>());

    /// <summary>The event for that fact, with the id that follows from its source and id.</summary>
    public static object Event(Guid id, RecordedFact fact, string? trace = null) => Makers[fact.Data.GetType()](id, fact.Of, fact.Data, trace);

    private static Event<Kept<T>> Make<T>(Guid id, FactOrigin of, IFact data, string? trace) where T : class, IFact =>
        new(new Kept<T>(of, (T)data) { Trace = trace }) { Id = id };
}
