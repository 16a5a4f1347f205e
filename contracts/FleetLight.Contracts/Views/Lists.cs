namespace FleetLight.Contracts.Views;

/// <summary>A circuit in a list.</summary>
public sealed record CircuitLine
{
    /// <summary>The circuit.</summary>
    public required string Id { get; init; }

    /// <summary>Its site.</summary>
    public string? SiteId { get; init; }

    /// <summary>What people call its site; in lists of circuits only.</summary>
    public string? SiteName { get; init; }

    /// <summary>What people call it.</summary>
    public string? Name { get; init; }

    /// <summary>How it is driven.</summary>
    public DriveKind? Drive { get; init; }

    /// <summary>The phase reached.</summary>
    public required CircuitPhase Phase { get; init; }

    /// <summary>The verdict on the latest visit's readings.</summary>
    public required CircuitVerdict Verdict { get; init; }

    /// <summary>What the driver should read, V, with its interval.</summary>
    public ExpectedValue? ExpectedVolts { get; init; }

    /// <summary>The latest reading at the driver, V.</summary>
    public double? LastVolts { get; init; }

    /// <summary>When the latest reading was taken.</summary>
    public DateTimeOffset? LastReadAt { get; init; }

    /// <summary>Rules that find something on the circuit or on what it leans on.</summary>
    public required IReadOnlyList<string> Rules { get; init; }
}

/// <summary>A page of a list. The next page's address stands in the Link header (RFC 8288), relation <c>next</c>.</summary>
/// <typeparam name="T">What is listed.</typeparam>
public sealed record Page<T>
{
    /// <summary>The members of this page.</summary>
    public required IReadOnlyList<T> Items { get; init; }

    /// <summary>Cursor of the next page; none on the last.</summary>
    public string? Next { get; init; }
}

/// <summary>Something changed: fetch it again.</summary>
public sealed record ChangeView
{
    /// <summary>Cursor: ask for what came after it.</summary>
    public required string Cursor { get; init; }

    /// <summary>What kind of thing: site, circuit, duct, cable, box, alert, visit or attachment. Others may come.</summary>
    public required string Kind { get; init; }

    /// <summary>Its id.</summary>
    public required string Id { get; init; }

    /// <summary>Its site, where known.</summary>
    public string? SiteId { get; init; }
}
