namespace FleetLight.Service.MadeFiles;

/// <summary>What a file is wanted of. Two that are equal are of the same.</summary>
public interface IWantedFile
{
    /// <summary>Whose.</summary>
    string Organisation { get; }
}

/// <summary>A file that was made.</summary>
/// <param name="Path">Where it is.</param>
/// <param name="Tag">Strong entity tag of what is sent of it, in quotation marks.</param>
/// <param name="Length">Bytes of what is sent of it.</param>
/// <param name="Sha256">SHA-256 of what is sent of it.</param>
public sealed record MadeFile(string Path, string Tag, long Length, byte[] Sha256);

/// <summary>A file that was made, opened: it stays readable though it is tidied away meanwhile.</summary>
/// <param name="Made">The file.</param>
/// <param name="Bytes">Its bytes, for whoever opened it to close.</param>
public sealed record OpenedFile(MadeFile Made, FileStream Bytes);
