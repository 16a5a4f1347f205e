using System.Runtime.InteropServices;

namespace FleetLight.FieldAgent.Outbox;

/// <summary>Files that only their user can read, and that nobody ever finds half written.</summary>
internal static class PrivateFiles
{
    private const UnixFileMode Mine = UnixFileMode.UserRead | UnixFileMode.UserWrite;

    /// <summary>Makes a folder for its user alone, where there is none.</summary>
    public static void MakeFolder(string folder)
    {
        if (Directory.Exists(folder)) return;
        if (OperatingSystem.IsWindows()) Directory.CreateDirectory(folder);
        else Directory.CreateDirectory(folder, Mine | UnixFileMode.UserExecute);
    }

    /// <summary>Makes an empty file; there must be none of that name.</summary>
    public static FileStream Create(string path)
    {
        var options = new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows()) options.UnixCreateMode = Mine;
        return new FileStream(path, options);
    }

    /// <summary>Removes a file, where there is one.</summary>
    public static void Delete(string path) => File.Delete(path);

    /// <summary>Writes a file anew; it holds the old text or the new one, whenever the power goes.</summary>
    /// <param name="path">Where.</param>
    /// <param name="text">What.</param>
    /// <param name="reached">Told of each place where the power may go.</param>
    public static void Replace(string path, byte[] text, Action<string> reached)
    {
        var beside = $"{path}.{Environment.ProcessId}.new";
        Delete(beside);
        using (var file = Create(beside))
        {
            file.Write(text);
            reached("written");
            file.Flush(flushToDisk: true);
        }

        reached("flushed");
        File.Move(beside, path, overwrite: true);
        SyncFolder(Path.GetDirectoryName(path)!);
        reached("placed");
    }

    /// <summary>Puts a file in its place unless there is one already; then the one beside it goes.</summary>
    public static void PutInPlace(string beside, string path)
    {
        using (var file = new FileStream(beside, FileMode.Open, FileAccess.ReadWrite)) file.Flush(flushToDisk: true);
        try
        {
            File.Move(beside, path, overwrite: false);
        }
        catch (IOException) when (File.Exists(path))
        {
            Delete(beside);
        }

        SyncFolder(Path.GetDirectoryName(path)!);
    }

    // A new name is on the disk only when its folder is. Windows sees to that itself; .NET opens no folder.
    private static void SyncFolder(string folder)
    {
        if (OperatingSystem.IsWindows()) return;
        var handle = Posix.Open(folder, 0);
        if (handle < 0) throw new IOException($"{folder} cannot be opened (error {Marshal.GetLastPInvokeError()}).");
        try
        {
            if (Posix.Sync(handle) != 0) throw new IOException($"{folder} cannot be written to the disk (error {Marshal.GetLastPInvokeError()}).");
        }
        finally
        {
            _ = Posix.Close(handle);
        }
    }

    // open, fsync and close of POSIX.1-2017.
    private static class Posix
    {
        [DllImport("libc", EntryPoint = "open", SetLastError = true, CharSet = CharSet.Ansi, BestFitMapping = false, ThrowOnUnmappableChar = true)]
        [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
        public static extern int Open([MarshalAs(UnmanagedType.LPUTF8Str)] string path, int flags);

        [DllImport("libc", EntryPoint = "fsync", SetLastError = true)]
        [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
        public static extern int Sync(int handle);

        [DllImport("libc", EntryPoint = "close", SetLastError = true)]
        [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
        public static extern int Close(int handle);
    }
}
