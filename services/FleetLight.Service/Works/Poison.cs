using System.Data.Common;
using System.Net.Sockets;
using FleetLight.Contracts.Views;

namespace FleetLight.Service.Works;

/// <summary>Tells what fails by itself, every time, from what fails in passing.</summary>
public static class Poison
{
    private const int MostCharacters = 300;

    /// <summary>
    /// Whether running the same again would fail again: the data or the code is at fault. A database that does not answer, a
    /// service that ends and a machine without memory are not.
    /// </summary>
    public static bool Is(Exception fault, CancellationToken cancel)
    {
        if (cancel.IsCancellationRequested) return false;
        for (var each = fault; each is not null; each = each.InnerException)
        {
            if (each is DbException or SocketException or IOException or TimeoutException or OperationCanceledException
                or ObjectDisposedException or OutOfMemoryException)
                return false;
        }

        return true;
    }

    /// <summary>What is told of it: the kind of error and its words, no trace.</summary>
    public static string Words(Exception fault)
    {
        var cause = fault is FoldException or FactException ? fault.InnerException! : fault;
        var words = $"{cause.GetType().Name}: {cause.Message}".Replace('\0', '\uFFFD');
        return words.Length <= MostCharacters ? words : string.Concat(words.AsSpan(0, MostCharacters), "…");
    }
}

/// <summary>The fold of one thing failed.</summary>
/// <param name="thing">The thing.</param>
/// <param name="cause">How.</param>
public sealed class FoldException(ThingRef thing, Exception cause) : Exception($"{ThingKeys.Of(thing)} cannot be folded.", cause)
{
    /// <summary>The thing.</summary>
    public ThingRef Thing { get; } = thing;

    /// <summary>Runs a fold and names the thing where it fails.</summary>
    public static T Naming<T>(ThingRef thing, Func<T> fold)
    {
        try
        {
            return fold();
        }
        catch (Exception fault)
        {
            throw new FoldException(thing, fault);
        }
    }
}

/// <summary>One fact cannot be filed at all.</summary>
/// <param name="eventId">Its event.</param>
/// <param name="cause">How.</param>
public sealed class FactException(Guid eventId, Exception cause) : Exception("A fact cannot be filed.", cause)
{
    /// <summary>Its event.</summary>
    public Guid EventId { get; } = eventId;
}
