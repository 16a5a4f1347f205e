using FleetLight.Service.Hosting;

namespace FleetLight.Service.MadeFiles;

/// <summary>In what the files of one kind differ from those of another.</summary>
/// <typeparam name="TWanted">What a file of the kind is of.</typeparam>
public sealed record MadeFileOptions<TWanted> where TWanted : IWantedFile
{
    /// <summary>What one is called, in the log and as part of the folder's name.</summary>
    public required string Name { get; init; }

    /// <summary>What the names of the files end with, with the dot.</summary>
    public required string Extension { get; init; }

    /// <summary>What somebody is told who is sent away until it is made.</summary>
    public required string BeingMade { get; init; }

    /// <summary>
    /// Whether one that was made stands for what is wanted as long as it is kept, for what is wanted names the state that it is made of. Else it
    /// stands for nothing later, but for whoever was sent away for it or has a part of it.
    /// </summary>
    public bool IsOfOneState { get; init; }

    /// <summary>How many may be in making for one organisation; none where any number may.</summary>
    public MostAtOnce? MostOfOne { get; init; }

    /// <summary>
    /// How long a caller waits, a little less than an answer may take to begin; after that it is told to ask again, and the file goes on being made.
    /// </summary>
    public TimeSpan Patience { get; init; } = TimeLimit.Making;
}

/// <summary>A limit.</summary>
/// <param name="Number">How many are within it.</param>
/// <param name="Beyond">What somebody is told who asks for one more.</param>
public sealed record MostAtOnce(int Number, string Beyond);
