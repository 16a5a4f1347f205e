using System.Collections.Concurrent;
using System.Security.Cryptography;
using System.Text;
using FleetLight.Contracts.Wire;
using FleetLight.Service.MadeFiles;
using FleetLight.Service.Tests.Hosting;
using Microsoft.Extensions.Logging.Abstractions;

namespace FleetLight.Service.Tests.MadeFiles;

/// <summary>What a file of these tests is of.</summary>
public sealed record Wanted(string Name, string Organisation = "own") : IWantedFile;

/// <summary>What somebody got who asked.</summary>
/// <param name="Text">What the file says: its name, and how many of the name had been made with it. None with a problem.</param>
/// <param name="Tag">Its tag.</param>
/// <param name="Problem">None with a file.</param>
public sealed record Got(string? Text, string? Tag, Problem? Problem);

/// <summary>A desk by itself, whose files are made when a test says so.</summary>
public sealed class Desk : IAsyncDisposable
{
    public const string BeingMade = "It is on the bench.";
    public const string Beyond = "The bench is full.";

    private static readonly MadeFileOptions<Wanted> Plain = new()
    {
        Name = "trial",
        Extension = ".txt",
        BeingMade = BeingMade,
        Patience = TimeSpan.FromMinutes(1),
    };

    private readonly MadeFileDesk<Wanted> desk;
    private readonly ConcurrentDictionary<string, int> made = [];
    private int underWay;

    public Desk(Func<MadeFileOptions<Wanted>, MadeFileOptions<Wanted>>? change = null) =>
        desk = new(change?.Invoke(Plain) ?? Plain, MakeAsync, Clock, NullLogger<MadeFileDesk<Wanted>>.Instance);

    public TestClock Clock { get; } = new(TestClock.Start);

    /// <summary>What a making waits for.</summary>
    public Func<Wanted, CancellationToken, Task> Until { get; set; } = (_, _) => Task.CompletedTask;

    /// <summary>How many were being made at once at most.</summary>
    public int MostUnderWay { get; private set; }

    public string Folder => desk.Folder;

    /// <summary>How often one of the name was begun.</summary>
    public int Begun(string name) => made.GetValueOrDefault(name);

    /// <summary>What the files say that there are.</summary>
    public IEnumerable<string> Kept() => Directory.EnumerateFiles(Folder).Select(File.ReadAllText).Order(StringComparer.Ordinal);

    /// <summary>Asks, and waits for it.</summary>
    public Task<Got> AskAsync(string name, string? tag = null, string organisation = "own") =>
        AskAsync(new Wanted(name, organisation), tag, TimeSpan.Zero, default);

    /// <summary>Asks, and waits for it or leaves.</summary>
    public Task<Got> AskUntilAsync(string name, CancellationToken leaves) => AskAsync(new Wanted(name), null, TimeSpan.Zero, leaves);

    /// <summary>Asks, and is sent away if it is not there already.</summary>
    public Task<Got> AskInPassingAsync(string name, string organisation = "own") => AskAsync(new Wanted(name, organisation), null, Plain.Patience, default);

    /// <summary>Asks, and leaves the file open.</summary>
    public async Task<FileStream> OpenAsync(string name) => (await desk.OpenAsync(new Wanted(name), null, TimeSpan.Zero, default)).File!.Bytes;

    /// <inheritdoc/>
    public ValueTask DisposeAsync() => desk.DisposeAsync();

    private async Task<Got> AskAsync(Wanted wanted, string? tag, TimeSpan spent, CancellationToken cancel)
    {
        (OpenedFile? file, Problem? problem) = await desk.OpenAsync(wanted, tag, spent, cancel);
        if (file is null) return new Got(null, null, problem);
        using StreamReader reader = new(file.Bytes);
        return new Got(await reader.ReadToEndAsync(cancel), file.Made.Tag, null);
    }

    private async Task<MadeFile> MakeAsync(Wanted wanted, string path, CancellationToken cancel)
    {
        int number = made.AddOrUpdate(wanted.Name, 1, (_, before) => before + 1);
        lock (made) MostUnderWay = Math.Max(MostUnderWay, ++underWay);
        try
        {
            string text = $"{wanted.Name} {number}";
            byte[] bytes = Encoding.UTF8.GetBytes(text);
            await File.WriteAllBytesAsync(path, bytes, cancel);
            await Until(wanted, cancel);
            return new MadeFile(path, $"\"{text}\"", bytes.Length, SHA256.HashData(bytes));
        }
        finally
        {
            lock (made) underWay--;
        }
    }
}
