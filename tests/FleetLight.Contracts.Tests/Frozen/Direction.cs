namespace FleetLight.Contracts.Tests.Frozen;

/// <summary>Which way something travels, from the service's side.</summary>
[Flags]
internal enum Direction
{
    /// <summary>It comes in: whoever sends what was taken before is taken still.</summary>
    In = 1,

    /// <summary>It goes out: whoever reads finds what they found before.</summary>
    Out = 2,
}
