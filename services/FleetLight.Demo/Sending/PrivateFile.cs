using System.Text.Json;
using FleetLight.Contracts.Wire;

namespace FleetLight.Demo.Sending;

/// <summary>Files that only their owner can read.</summary>
internal static class PrivateFile
{
    private static readonly JsonSerializerOptions Indented = new(WireJson.Lenient) { WriteIndented = true };

    /// <summary>What the file holds; none where there is no file.</summary>
    public static async Task<T?> ReadAsync<T>(string path, CancellationToken cancel) where T : class
    {
        if (!File.Exists(path)) return null;
        try
        {
            await using var file = File.OpenRead(path);
            return await JsonSerializer.DeserializeAsync<T>(file, WireJson.Lenient, cancel);
        }
        catch (JsonException failed)
        {
            throw new DemoFailure($"{path} cannot be read: {failed.Message} Mend or remove it.", failed);
        }
    }

    /// <summary>Writes the file anew; nobody ever finds half of it.</summary>
    public static async Task WriteAsync<T>(string path, T content, CancellationToken cancel)
    {
        var beside = path + ".new";
        // A file that is there already would keep the rights it has.
        File.Delete(beside);
        var options = new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows()) options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        await using (var file = new FileStream(beside, options))
        {
            await JsonSerializer.SerializeAsync(file, content, Indented, cancel);
            file.WriteByte((byte)'\n');
        }

        File.Move(beside, path, overwrite: true);
    }

    /// <summary>The one line of the file.</summary>
    public static async Task<string> FirstLineAsync(string path, CancellationToken cancel) => File.Exists(path)
        ? (await File.ReadAllTextAsync(path, cancel)).Trim()
        : throw new DemoFailure($"The administrator's key is not in {path}. Start the service once, or name its file with --first-key.");
}
