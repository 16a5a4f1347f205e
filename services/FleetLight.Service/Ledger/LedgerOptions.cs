namespace FleetLight.Service.Ledger;

/// <summary>How often the ledger is written. Set by <c>Ledger__CheckpointMinutes</c> and the like.</summary>
public sealed class LedgerOptions
{
    /// <summary>Name of the section of the settings.</summary>
    public const string Section = "Ledger";

    /// <summary>What stands where nothing is set, with what the settings change.</summary>
    public LedgerOptions(IConfiguration configuration)
    {
        var set = configuration.GetSection(Section);
        CheckpointEvery = TimeSpan.FromMinutes(set.GetValue("CheckpointMinutes", 5.0));
        LookEvery = TimeSpan.FromSeconds(set.GetValue("LookSeconds", 5.0));
        if (CheckpointEvery < TimeSpan.Zero || LookEvery < TimeSpan.FromMilliseconds(50))
            throw new InvalidOperationException($"{Section}: CheckpointMinutes is 0 or more, LookSeconds is 0.05 or more.");
    }

    /// <summary>How old the newest checkpoint of an organisation is at least before another is made without being asked for; 5 min where nothing is set.</summary>
    public TimeSpan CheckpointEvery { get; }

    /// <summary>How often is looked for facts that are not in a ledger yet; 5 s where nothing is set.</summary>
    public TimeSpan LookEvery { get; }
}
