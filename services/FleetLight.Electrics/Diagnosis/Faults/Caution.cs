namespace FleetLight.Electrics;

/// <summary>Cautions that several texts share. Local codes go before them.</summary>
internal static class Caution
{
    public const string Isolate = "Switch the driver off at the mains and prove it dead first. ";

    public const string Licensed =
        "Work on the mains side is for a licensed person, isolated and locked off by the local code. ";

    public const string Digging = "Before any digging have buried services located, and dig by hand near them. ";
}
