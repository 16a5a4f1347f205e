using FleetLight.Contracts.Wire;

namespace FleetLight.Record.Files;

/// <summary>How a fact is named in evidence and in texts: <c>source#id</c>.</summary>
public static class FactKey
{
    /// <summary>The name of the fact with that origin.</summary>
    public static string Of(FactOrigin origin) => Of(origin.Source, origin.Id);

    /// <summary>The name of the fact with that source and id.</summary>
    public static string Of(string source, string id) => string.Concat(source, "#", id);
}
