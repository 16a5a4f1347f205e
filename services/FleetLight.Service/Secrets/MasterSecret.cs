using System.Security.Cryptography;

namespace FleetLight.Service.Secrets;

/// <summary>
/// Where the master secret comes from: <c>Webhooks__MasterSecret</c>, and <c>Webhooks__OtherMasterSecrets__0</c> and so on for those
/// that only open. Where none is configured the node makes one and keeps it in its data folder.
/// </summary>
public static class MasterSecret
{
    /// <summary>The setting.</summary>
    public const string Setting = "Webhooks:MasterSecret";

    /// <summary>The setting of those that only open.</summary>
    public const string OthersSetting = "Webhooks:OtherMasterSecrets";

    /// <summary>Name of the file in the data folder.</summary>
    public const string FileName = "webhook-master-secret";

    /// <summary>Reads them, and makes one where there is none.</summary>
    public static SealingKeys Read(IConfiguration configuration)
    {
        ArgumentNullException.ThrowIfNull(configuration);
        // Files of secrets are named like the variables, with two low lines; both come as a section.
        var given = configuration[Setting];
        byte[][] others =
        [
            .. (configuration.GetSection(OthersSetting).Get<string[]>() ?? []).Where(text => !string.IsNullOrWhiteSpace(text)).Select(text => Parse(text, OthersSetting)),
        ];
        var folder = configuration["FLEETLIGHT_DATA"] ?? ".data";
        var file = Path.Combine(folder, FileName);
        if (!string.IsNullOrWhiteSpace(given))
        {
            // What this node sealed for itself before one was configured is opened, and sealed anew.
            if (File.Exists(file)) others = [.. others, Parse(File.ReadAllText(file), file)];
            return new SealingKeys(Parse(given, Setting), others, isOwn: false);
        }

        return new SealingKeys(Parse(ReadOrMake(folder, file), file), others, isOwn: true);
    }

    private static string ReadOrMake(string folder, string file)
    {
        if (File.Exists(file)) return File.ReadAllText(file);
        Directory.CreateDirectory(folder);
        var made = Convert.ToBase64String(RandomNumberGenerator.GetBytes(SealingKeys.LeastBytes));
        // Whole or not at all: half a secret would open nothing ever again.
        var beside = $"{file}.{Guid.NewGuid():N}";
        var options = new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows()) options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        using (var stream = new FileStream(beside, options))
        using (var writer = new StreamWriter(stream))
        {
            writer.WriteLine(made);
            writer.Flush();
            stream.Flush(flushToDisk: true);
        }

        try
        {
            File.Move(beside, file, overwrite: false);
        }
        catch (IOException) when (File.Exists(file))
        {
            // Another process with the same folder was first: its secret holds.
            File.Delete(beside);
        }

        return File.ReadAllText(file);
    }

    private static byte[] Parse(string text, string where) => SealingKeys.TryRead(text, out var master)
        ? master
        : throw new InvalidOperationException($"{where} is not the Base64 of {SealingKeys.LeastBytes} bytes or more. Make one with: openssl rand -base64 32");
}
