namespace FleetLight.FieldAgent.Tests.Faults;

/// <summary>What the network between agent and service does to one request.</summary>
public enum NetworkFault
{
    /// <summary>Nothing.</summary>
    None,

    /// <summary>The connection is refused or reset at once.</summary>
    Dropped,

    /// <summary>The request is cut off in the middle; the service never sees it whole.</summary>
    CutRequest,

    /// <summary>The service handles the request; the connection ends before its answer.</summary>
    CutBeforeAnswer,

    /// <summary>The service handles the request; half of its answer comes through.</summary>
    CutAnswer,

    /// <summary>The answer comes late, but in time.</summary>
    Late,

    /// <summary>The service handles the request; the answer comes after the agent has given up.</summary>
    TooLate,

    /// <summary>Nothing ever comes.</summary>
    Silent,

    /// <summary>Bytes that are no HTTP come.</summary>
    Noise,

    /// <summary>A page to log in comes with status 200, as gateways of guest networks send it.</summary>
    LoginPage,

    /// <summary>JSON comes with status 200 that is no receipt.</summary>
    OtherJson,

    /// <summary>The service handles the request; the answer to another batch comes.</summary>
    OtherAnswer,

    /// <summary>A gateway answers 502 with a page.</summary>
    BadGateway,

    /// <summary>A gateway answers 500 after the service has handled the request.</summary>
    FailedAfter,

    /// <summary>503 with Retry-After.</summary>
    Busy,

    /// <summary>429 with Retry-After.</summary>
    TooMany,

    /// <summary>A gateway takes no body of more than 4 KiB: 413.</summary>
    TooLarge,

    /// <summary>The request reaches the service twice.</summary>
    Doubled,
}
