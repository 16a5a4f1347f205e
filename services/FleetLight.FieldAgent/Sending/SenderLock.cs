namespace FleetLight.FieldAgent.Sending;

/// <summary>
/// Held by the one sender of an outbox, among all processes. The system lets go of it when its process ends, however it ends.
/// </summary>
internal sealed class SenderLock : IDisposable
{
    private readonly FileStream file;

    private SenderLock(FileStream file) => this.file = file;

    /// <summary>Takes it; none where another sender holds it.</summary>
    public static SenderLock? TryTake(string folder)
    {
        try
        {
            return new SenderLock(new FileStream(Path.Combine(folder, "sender.lock"), FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None));
        }
        catch (IOException)
        {
            return null;
        }
    }

    /// <inheritdoc/>
    public void Dispose() => file.Dispose();
}
