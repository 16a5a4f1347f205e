using FleetLight.Contracts.Views;

namespace FleetLight.Service.FactLists;

/// <summary>Names of the lists in which facts stand.</summary>
public static class FactList
{
    /// <summary>Every fact of the organisation.</summary>
    public const string Everything = "*";

    /// <summary>The facts of a site: those that name it, and those of all things that its things lean on.</summary>
    public static string OfSite(string siteId) => $"of-site:{siteId}";

    /// <summary>The facts in whose history the thing stands, with their corrections.</summary>
    public static string Of(ThingRef thing) => Works.ThingKeys.Of(thing);
}
