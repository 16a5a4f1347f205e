namespace FleetLight.Demo;

/// <summary>Says what is going on once it takes more than two seconds, and every two seconds from then.</summary>
internal sealed class Progress(TextWriter output, TimeProvider clock)
{
    private static readonly TimeSpan Every = TimeSpan.FromSeconds(2);
    private long said = clock.GetTimestamp();

    /// <summary>Says it, unless something was said less than two seconds ago.</summary>
    public void Show(string what)
    {
        if (clock.GetElapsedTime(said) < Every) return;
        output.WriteLine($"  … {what}");
        said = clock.GetTimestamp();
    }
}
