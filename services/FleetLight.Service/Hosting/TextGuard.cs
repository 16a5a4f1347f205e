using FleetLight.Contracts.Wire;

namespace FleetLight.Service.Hosting;

/// <summary>
/// Refuses a path or a query that holds the character zero: no text of the store can hold it, so nothing is found by it, and
/// the database refuses to look.
/// </summary>
public static class TextGuard
{
    /// <summary>Adds it.</summary>
    public static void UseTextGuard(this WebApplication app) => app.Use((context, next) =>
        HoldsZero(context.Request) ? Problems.WriteAsync(context, Zero()) : next(context));

    private static bool HoldsZero(HttpRequest request) =>
        (request.Path.Value?.Contains('\0', StringComparison.Ordinal) ?? false)
        || (request.QueryString.Value is { } query && (query.Contains("%00", StringComparison.Ordinal) || query.Contains('\0', StringComparison.Ordinal)));

    private static Problem Zero() => Problems.Parameter("path", "The path or the query holds the character zero.", "Leave it out: no id and no text holds it.");
}
