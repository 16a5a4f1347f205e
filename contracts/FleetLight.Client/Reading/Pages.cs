using System.Runtime.CompilerServices;
using FleetLight.Client.Sending;
using FleetLight.Contracts.Views;

namespace FleetLight.Client.Reading;

/// <summary>Follows lists from page to page.</summary>
internal static class Pages
{
    /// <summary>Every member of a list.</summary>
    public static async IAsyncEnumerable<T> ListAsync<T>(Transport transport, string path, [EnumeratorCancellation] CancellationToken cancel)
    {
        string? cursor = null;
        do
        {
            var mark = path.Contains('?', StringComparison.Ordinal) ? '&' : '?';
            var with = cursor is null ? path : $"{path}{mark}cursor={Uri.EscapeDataString(cursor)}";
            var page = await transport.ReadAsync<Page<T>>(Call.Get(with), cancel).ConfigureAwait(false);
            foreach (var item in page.Items) yield return item;
            cursor = page.Next;
        }
        while (cursor is not null);
    }

    /// <summary>A path with those parameters that have a value.</summary>
    public static string With(string path, params ReadOnlySpan<(string Name, string? Value)> parameters)
    {
        var mark = '?';
        foreach (var (name, value) in parameters)
        {
            if (value is null) continue;
            path += $"{mark}{name}={Uri.EscapeDataString(value)}";
            mark = '&';
        }

        return path;
    }
}
