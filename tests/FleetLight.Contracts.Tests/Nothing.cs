namespace FleetLight.Contracts.Tests;

/// <summary>Fails with everything that was found, where the runner's own message would cut the list short.</summary>
internal static class Nothing
{
    /// <summary>Nothing must have been found.</summary>
    public static void In(IEnumerable<string> found)
    {
        var text = string.Join('\n', found);
        Assert.True(text.Length == 0, text);
    }
}
