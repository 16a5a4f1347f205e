using FleetLight.Contracts.Views;

namespace FleetLight.PageParts.Lists;

/// <summary>The pages of a list that were fetched so far, each with the cursor by which it is fetched again.</summary>
public sealed class PagedLines<T>
{
    /// <summary>Members of a page.</summary>
    public const int PageSize = 100;

    private readonly List<(string? Cursor, IReadOnlyList<T> Items)> pages = [];
    private string? next;
    private int turn;

    /// <summary>Whether anything was fetched.</summary>
    public bool Known => pages.Count > 0;

    /// <summary>Whether the last page was fetched.</summary>
    public bool Whole => Known && next is null;

    /// <summary>Number of members fetched.</summary>
    public int Count { get; private set; }

    /// <summary>Number of lines that the list has to have room for: one page more than is known, where there is more.</summary>
    public int Shown => Known && next is null ? Count : Count + PageSize;

    /// <summary>Forgets all.</summary>
    public void Forget()
    {
        pages.Clear();
        (next, Count) = (null, 0);
        turn++;
    }

    /// <summary>Fetches pages until so many members are known, or all are.</summary>
    public async Task ReachAsync(int count, Func<string?, int, CancellationToken, Task<Page<T>>> read, CancellationToken cancel)
    {
        var mine = turn;
        while (!Whole && (Count < count || !Known))
        {
            var cursor = next;
            var page = await read(cursor, PageSize, cancel);
            // Another filter, or somebody who waited for the same page, was faster.
            if (mine != turn) return;
            if (Known && cursor != next) continue;
            pages.Add((cursor, page.Items));
            Count += page.Items.Count;
            next = page.Next;
        }
    }

    /// <summary>Fetches the pages again that hold these lines; the others stay as they are.</summary>
    public async Task ReadAgainAsync(int first, int count, Func<string?, int, CancellationToken, Task<Page<T>>> read, CancellationToken cancel)
    {
        var mine = turn;
        if (!Known)
        {
            await ReachAsync(Math.Max(count, 1), read, cancel);
            return;
        }

        for (var (index, start) = (0, 0); index < pages.Count; index++)
        {
            var (cursor, items) = pages[index];
            var inSight = start < first + count && start + items.Count >= first;
            start += items.Count;
            if (!inSight) continue;
            var page = await read(cursor, PageSize, cancel);
            if (mine != turn || index >= pages.Count) return;
            Count += page.Items.Count - pages[index].Items.Count;
            pages[index] = (cursor, page.Items);
            // A page that ends elsewhere than before: the pages after it no longer join on.
            var follows = index + 1 < pages.Count ? pages[index + 1].Cursor : next;
            if (page.Next == follows) continue;
            foreach (var later in pages[(index + 1)..]) Count -= later.Items.Count;
            pages.RemoveRange(index + 1, pages.Count - index - 1);
            next = page.Next;
        }
    }

    /// <summary>Members by their places.</summary>
    public IEnumerable<T> Slice(int first, int count)
    {
        var start = 0;
        foreach (var (_, items) in pages)
        {
            for (var at = Math.Max(0, first - start); at < items.Count && start + at < first + count; at++) yield return items[at];
            start += items.Count;
            if (start >= first + count) yield break;
        }
    }
}
