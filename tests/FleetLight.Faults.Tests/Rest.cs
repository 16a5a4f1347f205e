namespace FleetLight.Faults.Tests;

/// <summary>Lets time pass.</summary>
internal static class Rest
{
    /// <summary>Waits that many milliseconds, or until the run of the tests ends.</summary>
    public static Task ForAsync(int milliseconds) => Task.Delay(milliseconds, TestContext.Current.CancellationToken);
}
