namespace FleetLight.FieldAgent.Faults;

/// <summary>Places between two writes where the power may go. Nothing happens there but in tests.</summary>
internal interface IFaultPoints
{
    /// <summary>The agent is at that place.</summary>
    void Reach(string place);
}

/// <summary>Chooses what happens at the places.</summary>
internal static class FaultPoints
{
    /// <summary>
    /// Set by tests only: <c>list:FILE</c> writes down each place as it is reached, <c>cut:PLACE</c> kills the process there,
    /// <c>cut:PLACE#N</c> when it comes there for the Nth time.
    /// </summary>
    public const string Variable = "FLEETLIGHT_FIELD_FAULTS";

    /// <summary>Nothing happens.</summary>
    public static IFaultPoints None { get; } = new Nothing();

    /// <summary>What the environment asks for.</summary>
    public static IFaultPoints OfEnvironment() => Environment.GetEnvironmentVariable(Variable) switch
    {
        null or "" => None,
        var text when text.StartsWith("list:", StringComparison.Ordinal) => new Listing(text[5..]),
        var text when text.StartsWith("cut:", StringComparison.Ordinal) => Cut(text[4..]),
        var text => throw new ArgumentException($"{Variable} is '{text}'; it has to be list:FILE or cut:PLACE#N."),
    };

    private static Cutting Cut(string text)
    {
        var parts = text.Split('#');
        return new Cutting(parts[0], parts.Length > 1 ? int.Parse(parts[1], System.Globalization.CultureInfo.InvariantCulture) : 1);
    }

    private sealed class Nothing : IFaultPoints
    {
        public void Reach(string place)
        {
            // Only tests look.
        }
    }

    private sealed class Listing(string path) : IFaultPoints
    {
        private readonly Lock writing = new();

        public void Reach(string place)
        {
            lock (writing) File.AppendAllText(path, place + "\n");
        }
    }

    private sealed class Cutting(string where, int time) : IFaultPoints
    {
        private int times;

        public void Reach(string place)
        {
            if (place != where || Interlocked.Increment(ref times) != time) return;
            // As a power cut does it: nothing is flushed, nothing is told, no handler runs.
            using var self = System.Diagnostics.Process.GetCurrentProcess();
            self.Kill();
            Thread.Sleep(Timeout.Infinite);
        }
    }
}
