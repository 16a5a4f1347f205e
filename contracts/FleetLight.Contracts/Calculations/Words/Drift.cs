namespace FleetLight.Contracts.Calculations;

/// <summary>What readings over months show.</summary>
public enum DriftShows
{
    /// <summary>No change beyond what season, meters and scatter explain.</summary>
    Steady,

    /// <summary>
    /// Something moves, but too little is known to say what: the newest visit stands apart, or a chart signals while no test
    /// bears it out. Read again.
    /// </summary>
    Watch,

    /// <summary>It changes slowly, at a rate that is borne out.</summary>
    SlowChange,

    /// <summary>It changed suddenly, no recorded work explains it, and it has not come back.</summary>
    UnexplainedStep,
}

/// <summary>Why nothing is said of drift.</summary>
public enum NoDriftReason
{
    /// <summary>Too few visits.</summary>
    TooFewVisits,

    /// <summary>Too short a time from first to last.</summary>
    SpanTooShort,

    /// <summary>Enough readings, but too few of them since recorded work changed what the circuit reads.</summary>
    TooFewSinceWork,
}
