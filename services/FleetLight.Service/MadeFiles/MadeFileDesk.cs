using FleetLight.Contracts.Wire;
using FleetLight.Service.Hosting;

namespace FleetLight.Service.MadeFiles;

/// <summary>Makes a file at a path, which its maker begins and the desk deletes.</summary>
/// <typeparam name="TWanted">What the file is of.</typeparam>
public delegate Task<MadeFile> MakeFile<TWanted>(TWanted wanted, string path, CancellationToken cancel) where TWanted : IWantedFile;

/// <summary>
/// Makes files beside the answers, as temporary files of this node, however long that takes. Whoever asks waits a little, with all who ask for the
/// same; a file that takes longer is made meanwhile, and given to whoever asks for the same soon after. Each is kept for a while, so that an
/// interrupted fetch goes on with the same bytes.
/// </summary>
/// <typeparam name="TWanted">What a file is of.</typeparam>
public sealed class MadeFileDesk<TWanted>(MadeFileOptions<TWanted> options, MakeFile<TWanted> make, TimeProvider clock, ILogger<MadeFileDesk<TWanted>> log)
    : IAsyncDisposable where TWanted : IWantedFile
{
    /// <summary>How many files are kept, but for those that somebody waits for.</summary>
    public const int MostKept = 16;

    private const int MostAtOnce = 2;

    /// <summary>How long a file is kept that nobody asks for.</summary>
    public static readonly TimeSpan Keep = TimeSpan.FromMinutes(15);

    /// <summary>How long a file stands, once it is made, for whoever was sent away for it.</summary>
    public static readonly TimeSpan Awaits = TimeSpan.FromMinutes(1);

    private readonly Lock gate = new();
    private readonly SemaphoreSlim atOnce = new(MostAtOnce);
    private readonly CancellationTokenSource ending = new();

    // Those in making, and those that were made: the one used last stands last.
    private readonly List<Making> makings = [];
    private bool isEnded;

    /// <summary>Where the files are.</summary>
    public string Folder { get; } = Directory.CreateTempSubdirectory($"fleetlight-{options.Name.ToLowerInvariant()}-").FullName;

    /// <summary>The file, opened; a problem where it is still being made, or too many are.</summary>
    /// <param name="wanted">Of what.</param>
    /// <param name="tag">The tag of the one that the caller has a part of; none where it has none.</param>
    /// <param name="spent">How much of its patience the caller needed already.</param>
    /// <param name="cancel">Leaves it; it goes on being made.</param>
    public async Task<(OpenedFile? File, Problem? Problem)> OpenAsync(TWanted wanted, string? tag, TimeSpan spent, CancellationToken cancel)
    {
        Making making;
        lock (gate)
        {
            ObjectDisposedException.ThrowIf(isEnded, this);
            Tidy();
            if (tag is not null && makings.Find(each => each.Wanted.Equals(wanted) && each.File?.Tag == tag) is { } same) return (Open(same), null);
            if (makings.FindLast(each => each.Wanted.Equals(wanted) && Stands(each)) is { } known) making = known;
            else if (options.MostOfOne is { } most && makings.Count(each => each.Wanted.Organisation == wanted.Organisation && each.File is null) >= most.Number)
                return (null, Problems.TooManyRequests() with { Detail = most.Beyond });
            else makings.Add(making = new Making(wanted, MakeAsync));
            making.Waiting++;
        }

        try
        {
            var left = options.Patience - spent;
            await making.Ended.WaitAsync(left > TimeSpan.Zero ? left : TimeSpan.Zero, clock, cancel).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
            cancel.ThrowIfCancellationRequested();
            if (making.Ended.IsCompleted)
            {
                await making.Ended;
                lock (gate) return (Open(making), null);
            }

            lock (gate) making.IsAwaited = true;
            return (null, Problems.Unavailable() with { Detail = options.BeingMade, Remedy = "Ask the same again after the time in Retry-After." });
        }
        finally
        {
            lock (gate) making.Waiting--;
        }
    }

    /// <summary>Ends what is being made, and takes all files away.</summary>
    public async ValueTask DisposeAsync()
    {
        Task[] under;
        lock (gate)
        {
            if (isEnded) return;
            isEnded = true;
            under = [.. makings.Select(each => each.Ended)];
        }

        await ending.CancelAsync();
        await Task.WhenAll(under).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        ending.Dispose();
        atOnce.Dispose();
        Directory.Delete(Folder, recursive: true);
    }

    // Whether whoever asks now is given it.
    private bool Stands(Making making) => making.File is null || options.IsOfOneState || IsAwaited(making);

    // Whether somebody was sent away for it, of late, and has still to come back.
    private bool IsAwaited(Making making) => making.IsAwaited && clock.GetUtcNow() - making.EndedAt < Awaits;

    private OpenedFile Open(Making making)
    {
        Use(making);
        var made = making.File!;
        return new OpenedFile(made, new FileStream(made.Path, FileMode.Open, FileAccess.Read, FileShare.Read | FileShare.Delete, 65_536, useAsync: true));
    }

    private void Use(Making making)
    {
        makings.Remove(making);
        makings.Add(making);
        making.UsedAt = clock.GetUtcNow();
    }

    // Files that nobody asked for of late, and of those that there is no room for the ones unused longest; none that somebody waits for.
    private void Tidy()
    {
        // What failed is made anew.
        makings.RemoveAll(each => each.Ended.IsCompleted && each.File is null);
        var now = clock.GetUtcNow();
        foreach (var (place, making) in makings.Where(each => each.File is not null).Reverse().Index().ToArray())
        {
            if (making.Waiting > 0 || IsAwaited(making) || (place < MostKept && now - making.UsedAt < Keep)) continue;
            makings.Remove(making);
            File.Delete(making.File!.Path);
        }
    }

    private async Task MakeAsync(Making making)
    {
        await atOnce.WaitAsync(ending.Token);
        var path = Path.Combine(Folder, $"{Guid.NewGuid():N}{options.Extension}");
        try
        {
            var made = await make(making.Wanted, path, ending.Token);
            lock (gate)
            {
                making.File = made;
                making.EndedAt = clock.GetUtcNow();
                Use(making);
            }
        }
        catch (Exception fault)
        {
            if (!ending.IsCancellationRequested) log.LogError(fault, "A {Kind} of {Organisation} could not be made", options.Name, making.Wanted.Organisation);
            File.Delete(path);
            throw;
        }
        finally
        {
            atOnce.Release();
        }
    }

    private sealed class Making
    {
        public Making(TWanted wanted, Func<Making, Task> make)
        {
            Wanted = wanted;
            Ended = Task.Run(() => make(this), CancellationToken.None);
        }

        public TWanted Wanted { get; }

        public Task Ended { get; }

        // None until it is made.
        public MadeFile? File { get; set; }

        public int Waiting { get; set; }

        public bool IsAwaited { get; set; }

        public DateTimeOffset EndedAt { get; set; }

        public DateTimeOffset UsedAt { get; set; }
    }
}
