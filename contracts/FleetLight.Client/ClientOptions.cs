namespace FleetLight.Client;

/// <summary>Where the service is, who asks, and how patiently.</summary>
public sealed class ClientOptions
{
    /// <summary>Address of the service, for instance <c>https://fleetlight.example/</c>.</summary>
    public required Uri Address { get; init; }

    /// <summary>Gives the key for each request, so that a rotated one is used at once; none for what needs none.</summary>
    public Func<string?> Key { get; init; } = () => null;

    /// <summary>How long one try may take, the answer's body included, s; 30 s unless set.</summary>
    public TimeSpan TryTimeout { get; init; } = TimeSpan.FromSeconds(30);

    /// <summary>How long one try may take that carries a picture, s; 5 min unless set.</summary>
    public TimeSpan PictureTimeout { get; init; } = TimeSpan.FromMinutes(5);

    /// <summary>Number of tries after the first, 0 or more; 4 unless set.</summary>
    public int MostRetries { get; init; } = 4;

    /// <summary>Pause before the second try, s; it doubles, and each pause is drawn about its length. 0.5 s unless set.</summary>
    public TimeSpan FirstPause { get; init; } = TimeSpan.FromMilliseconds(500);

    /// <summary>
    /// Longest pause, s; 30 s unless set. Where the service asks for more (Retry-After), the call ends and says so instead.
    /// </summary>
    public TimeSpan LongestPause { get; init; } = TimeSpan.FromSeconds(30);

    /// <summary>Number of tries within half a minute before failures stop further ones, 2 or more; 10 unless set.</summary>
    public int TriesBeforeStop { get; init; } = 10;

    /// <summary>How long nothing is tried after at least half of those failed, s, 0.5 s or more; 15 s unless set.</summary>
    public TimeSpan StopFor { get; init; } = TimeSpan.FromSeconds(15);

    /// <summary>Most bytes of an answer; 64 MiB unless set.</summary>
    public int MostAnswerBytes { get; init; } = 64 * 1024 * 1024;

    /// <summary>After what silence a stream of changes is opened anew, s; 45 s unless set. The service speaks every 15 s.</summary>
    public TimeSpan Silence { get; init; } = TimeSpan.FromSeconds(45);
}
