namespace FleetLight.Office.Dossiers;

/// <summary>Addresses of pages, relative to where the office page lies.</summary>
internal static class Link
{
    /// <summary>The page of a circuit.</summary>
    public static string Circuit(string id) => $"circuits/{Uri.EscapeDataString(id)}";

    /// <summary>The page of a site.</summary>
    public static string Site(string id) => $"sites/{Uri.EscapeDataString(id)}";

    /// <summary>The sheet that changes the design of a circuit.</summary>
    public static string Design(string circuit) => $"design?circuit={Uri.EscapeDataString(circuit)}";

    /// <summary>The sheet of a new design on a site.</summary>
    public static string NewDesign(string site) => $"design?site={Uri.EscapeDataString(site)}";
}
