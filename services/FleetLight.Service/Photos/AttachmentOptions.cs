using FleetLight.Contracts.Facts;

namespace FleetLight.Service.Photos;

/// <summary>How much is taken of pictures. Set by <c>Attachments__MostBytesEach</c> and the like.</summary>
public sealed class AttachmentOptions
{
    /// <summary>Name of the section of the settings.</summary>
    public const string Section = "Attachments";

    /// <summary>The stated limits, with those that the settings change.</summary>
    public AttachmentOptions(IConfiguration configuration)
    {
        var set = configuration.GetSection(Section);
        MostBytesEach = set.GetValue(nameof(MostBytesEach), 5 * 1024 * 1024);
        MostBytesOfOrganisation = set.GetValue(nameof(MostBytesOfOrganisation), 5L * 1024 * 1024 * 1024);
        MostAtOnce = set.GetValue(nameof(MostAtOnce), 16);
        if (MostBytesEach is < 1 or > PictureLimits.MostBytes || MostBytesOfOrganisation < 1 || MostAtOnce < 1)
        {
            throw new InvalidOperationException(
                $"{Section}: MostBytesEach is 1 to {PictureLimits.MostBytes}, MostBytesOfOrganisation and MostAtOnce are 1 or more.");
        }
    }

    /// <summary>Most bytes of one picture; 5 MiB where nothing is set.</summary>
    public int MostBytesEach { get; }

    /// <summary>Most bytes of all pictures of an organisation; 5 GiB where nothing is set.</summary>
    public long MostBytesOfOrganisation { get; }

    /// <summary>How many pictures one node takes in at the same time: each is held in memory until it is whole.</summary>
    public int MostAtOnce { get; }
}
