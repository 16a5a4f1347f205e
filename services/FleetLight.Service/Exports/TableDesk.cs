using FleetLight.Service.Hosting;

namespace FleetLight.Service.Exports;

/// <summary>How tables are made.</summary>
public sealed record TableDeskOptions
{
    /// <summary>
    /// How long a caller waits for a table, a little less than an answer may take to begin; after that it is told to ask again, and the
    /// table goes on being made.
    /// </summary>
    public TimeSpan Patience { get; init; } = TimeLimit.Making;
}

/// <summary>Which table.</summary>
/// <param name="Organisation">Whose.</param>
/// <param name="Table">Which.</param>
/// <param name="From">Of readings: only those taken then or later.</param>
/// <param name="To">Of readings: only those taken before.</param>
public sealed record TableOf(string Organisation, ExportTable Table, DateTimeOffset? From, DateTimeOffset? To);

/// <summary>
/// Makes tables as temporary files of this node, however long that takes. Whoever asks waits a little; a table that takes longer is made
/// meanwhile, and given to whoever asks for the same soon after. Each is kept for a while, so that an interrupted fetch goes on with the same bytes.
/// </summary>
public sealed class TableDesk(ExportTableReader tables, TableDeskOptions options, TimeProvider clock, ILogger<TableDesk> log) : IAsyncDisposable
{
    private const int MostKept = 16;
    private const int MostMadeOfOne = 4;
    private static readonly TimeSpan Keep = TimeSpan.FromMinutes(15);

    // How long a table that somebody was sent away for stands for the present one.
    private static readonly TimeSpan Awaits = TimeSpan.FromMinutes(1);

    private readonly Lock gate = new();
    private readonly SemaphoreSlim atOnce = new(2);
    private readonly CancellationTokenSource ending = new();
    private readonly Dictionary<TableOf, Making> makings = [];
    private readonly List<(TableOf Of, MadeTable Made, DateTimeOffset UsedAt)> kept = [];
    private readonly string folder = Directory.CreateTempSubdirectory("fleetlight-tables-").FullName;

    /// <summary>The table, opened; a problem where it is still being made, or too many are.</summary>
    /// <param name="wanted">Which.</param>
    /// <param name="tag">The tag of the one that the caller has a part of; none where it has none.</param>
    /// <param name="cancel">Leaves it; it goes on being made.</param>
    public async Task<(TableExport? Table, Contracts.Wire.Problem? Problem)> OpenAsync(TableOf wanted, string? tag, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(wanted);
        Making making;
        lock (gate)
        {
            Tidy();
            if (tag is not null && kept.Find(each => each.Of == wanted && each.Made.Tag == tag).Made is { } same) return (Open(wanted, same), null);
            if (!makings.TryGetValue(wanted, out making!) || !IsGood(making))
            {
                if (makings.Count(each => each.Key.Organisation == wanted.Organisation && !each.Value.Made.IsCompleted) >= MostMadeOfOne)
                    return (null, Problems.TooManyRequests() with { Detail = "As many tables as may be made at once are made already." });
                makings[wanted] = making = new Making(Task.Run(() => MakeAsync(wanted), CancellationToken.None));
            }
        }

        await Task.WhenAny(making.Made, Task.Delay(options.Patience, cancel));
        cancel.ThrowIfCancellationRequested();
        if (!making.Made.IsCompleted)
        {
            making.IsAwaited = true;
            return (null, Problems.Unavailable() with { Detail = "The table is being made.", Remedy = "Ask the same again after the time in Retry-After." });
        }

        var made = await making.Made;
        lock (gate) return (Open(wanted, made), null);
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await ending.CancelAsync();
        await Task.WhenAll(makings.Values.Select(each => each.Made.ContinueWith(_ => { }, TaskScheduler.Default)));
        ending.Dispose();
        atOnce.Dispose();
        Directory.Delete(folder, recursive: true);
    }

    // One that is under way, or was finished of late after somebody was sent away for it.
    private bool IsGood(Making making) => !making.Made.IsCompleted
        || (making.Made.IsCompletedSuccessfully && making.IsAwaited && clock.GetUtcNow() - making.EndedAt < Awaits);

    private TableExport Open(TableOf wanted, MadeTable made)
    {
        kept.RemoveAll(each => each.Made.Path == made.Path);
        kept.Add((wanted, made, clock.GetUtcNow()));
        return new TableExport(made);
    }

    // Files that nobody asked for of late, and the oldest beyond those that there is room for. One that is being sent stays readable.
    private void Tidy()
    {
        var now = clock.GetUtcNow();
        foreach (var (key, making) in makings.Where(each => each.Value.Made.IsCompleted && !IsGood(each.Value)).ToArray()) makings.Remove(key);
        foreach (var each in kept.OrderByDescending(each => each.UsedAt).Where((each, place) => place >= MostKept || now - each.UsedAt >= Keep).ToArray())
        {
            kept.Remove(each);
            foreach (var (key, making) in makings.Where(making => making.Value.Made is { IsCompletedSuccessfully: true } made && made.Result == each.Made).ToArray())
                makings.Remove(key);
            File.Delete(each.Made.Path);
        }
    }

    private async Task<MadeTable> MakeAsync(TableOf wanted)
    {
        await atOnce.WaitAsync(ending.Token);
        var path = Path.Combine(folder, $"{Guid.NewGuid():N}.csv.gz");
        try
        {
            var parts = tables.ReadAsync(wanted.Organisation, wanted.Table, wanted.From, wanted.To, ending.Token);
            var made = await MadeTable.OfAsync(path, Query.Word(wanted.Table), parts, ending.Token);
            lock (gate)
            {
                if (makings.TryGetValue(wanted, out var making)) making.EndedAt = clock.GetUtcNow();
                kept.Add((wanted, made, clock.GetUtcNow()));
            }

            return made;
        }
        catch (Exception fault)
        {
            if (!ending.IsCancellationRequested) log.LogError(fault, "A table of {Organisation} could not be made", wanted.Organisation);
            File.Delete(path);
            throw;
        }
        finally
        {
            atOnce.Release();
        }
    }

    private sealed class Making(Task<MadeTable> made)
    {
        public Task<MadeTable> Made => made;

        public bool IsAwaited { get; set; }

        public DateTimeOffset EndedAt { get; set; }
    }
}
