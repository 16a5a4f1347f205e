namespace FleetLight.Electrics;

/// <summary>An answer, or the input that stands in its way: exactly one of the two is there.</summary>
/// <typeparam name="T">The answer.</typeparam>
/// <param name="Value">The answer; null where there is none.</param>
/// <param name="Refusal">Why there is none; null where there is one.</param>
public sealed record Outcome<T>(T? Value, InputRefusal? Refusal)
    where T : class
{
    internal static Outcome<T> Of(T value) => new(value, null);

    internal static Outcome<T> Refused(string field, string range) =>
        new(null, new InputRefusal(field, $"The value is missing or outside its range, which is {range}."));
}

/// <summary>An input outside its range.</summary>
/// <param name="Field">The input.</param>
/// <param name="Text">Its range, in plain words.</param>
public sealed record InputRefusal(string Field, string Text);
