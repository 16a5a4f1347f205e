namespace FleetLight.Contracts.Wire;

/// <summary>Names of the envelope: CloudEvents 1.0 (CNCF) and what FleetLight adds to it.</summary>
public static class Envelope
{
    /// <summary>Media type of one event.</summary>
    public const string SingleMediaType = "application/cloudevents+json";

    /// <summary>Media type of a batch: a JSON array of events.</summary>
    public const string BatchMediaType = "application/cloudevents-batch+json";

    /// <summary>Extension attribute: the device's own running number, 1, 2, 3, … without a gap, up to 2,147,483,647.</summary>
    public const string RunningNumber = "runningnumber";

    /// <summary>Request header: what the device's clock showed as it sent the batch (RFC 3339).</summary>
    public const string DeviceClockHeader = "Device-Clock";

    /// <summary>Most events in one batch.</summary>
    public const int MostEvents = 1000;

    /// <summary>Most bytes in one request.</summary>
    public const int MostBytes = 2 * 1024 * 1024;

    /// <summary>Most bytes in the data of one event.</summary>
    public const int MostDataBytes = 256 * 1024;
}
