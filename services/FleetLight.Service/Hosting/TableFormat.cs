namespace FleetLight.Service.Hosting;

/// <summary>Forms in which what is also a table is answered.</summary>
public enum TableFormat
{
    /// <summary>JSON.</summary>
    Json,

    /// <summary>A table as text (RFC 4180), units in its header.</summary>
    Csv,
}

/// <summary>Marks endpoints that answer with a table too.</summary>
public sealed record AlsoTable;
