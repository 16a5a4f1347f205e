namespace FleetLight.FieldAgent.Outbox;

/// <summary>Single values that the outbox keeps.</summary>
internal static class Settings
{
    /// <summary>The newest receipt, as JSON.</summary>
    public const string Receipt = "receipt";

    /// <summary>When the service last answered.</summary>
    public const string HeardAt = "heard-at";

    /// <summary>What is in the way of sending; empty where nothing is.</summary>
    public const string Trouble = "trouble";

    /// <summary>What is odd and that a person should know; empty where nothing is.</summary>
    public const string Remark = "remark";

    /// <summary>The number through which the service was ahead of this outbox, as long as a remark says so.</summary>
    public const string AheadThrough = "ahead-through";

    /// <summary>The greatest running number given.</summary>
    public const string LastNumber = "last-number";

    /// <summary>How far the change feed was read.</summary>
    public const string Cursor = "cursor";

    /// <summary>The sites that are kept here, as JSON.</summary>
    public const string Sites = "sites";

    /// <summary>When the sites were last brought up to date.</summary>
    public const string ReceivedAt = "received-at";

    /// <summary>The value of that name; none where there is none.</summary>
    public static string? Get(this Statements statements, string name) =>
        statements.Text("select value from setting where name = $name", ("$name", name));

    /// <summary>Sets a value, where it is another than it was.</summary>
    public static void Set(this Statements statements, string name, string value)
    {
        if (statements.Get(name) == value) return;
        statements.Run(
            "insert into setting values ($name, $value) on conflict (name) do update set value = excluded.value", ("$name", name), ("$value", value));
    }
}
