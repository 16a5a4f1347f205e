using System.Text;
using FleetLight.Service.Store;
using Marten;
using Marten.Events;

namespace FleetLight.Contracts.Tests.Golden;

/// <summary>The store's own view of its events: their names, their types and the way in which it writes and reads them.</summary>
internal static class Stored
{
    private static readonly StoreOptions Options = Configured();

    /// <summary>The type of every event of ours that the store knows, by its stored name; the store has events of its own.</summary>
    public static IReadOnlyDictionary<string, Type> Types { get; } = ((IReadOnlyEventStoreOptions)Options.Events).AllKnownEventTypes()
        .Where(known => known.EventTypeName.StartsWith("fleetlight.", StringComparison.Ordinal))
        .ToDictionary(known => known.EventTypeName, known => known.EventType, StringComparer.Ordinal);

    /// <summary>The text in which the store keeps an event.</summary>
    public static string Write(object happened) => Options.Serializer().ToJson(happened);

    /// <summary>The event of a stored text.</summary>
    public static object Read(string name, string text)
    {
        using var stream = new MemoryStream(Encoding.UTF8.GetBytes(text));
        return Options.Serializer().FromJson(Types[name], stream);
    }

    private static StoreOptions Configured()
    {
        var options = new StoreOptions();
        MartenSetup.Configure(options);
        return options;
    }
}
