using System.Globalization;

namespace FleetLight.FieldAgent.Outbox;

/// <summary>Instants as the outbox keeps them: texts in UTC that sort.</summary>
internal static class Moments
{
    /// <summary>An instant as text.</summary>
    public static string Text(DateTimeOffset at) => at.UtcDateTime.ToString("O", CultureInfo.InvariantCulture);

    /// <summary>A text as an instant.</summary>
    public static DateTimeOffset Read(string text) => DateTimeOffset.Parse(text, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal);
}
