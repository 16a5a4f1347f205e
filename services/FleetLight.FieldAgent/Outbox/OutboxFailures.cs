namespace FleetLight.FieldAgent.Outbox;

/// <summary>The outbox file is not whole. Nothing is written to it.</summary>
public sealed class OutboxDamagedException : Exception
{
    /// <summary>A damaged file and what was found.</summary>
    public OutboxDamagedException(string path, string found, Exception? inner = null)
        : base($"The outbox {path} is damaged: {found} Nothing was changed. Copy the whole folder away before anything else; "
            + "what was sent is safe with the service. Then put back a sound copy, or move the folder away and enrol again, "
            + "and have the facts that were still waiting recovered from the copy (sqlite3's .recover reads what is left).", inner)
    {
    }
}

/// <summary>The outbox cannot take a fact now: the disk is full or cannot be written.</summary>
public sealed class OutboxBlockedException : Exception
{
    /// <summary>Why it cannot.</summary>
    public OutboxBlockedException(string message, Exception inner) : base(message, inner)
    {
    }
}
