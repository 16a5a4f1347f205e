using FleetLight.Service.Tests.Hosting;

namespace FleetLight.Service.Tests.Photos;

/// <summary>A service that takes little of pictures.</summary>
public sealed class SmallAttachments : FleetService
{
    public const int MostBytesEach = 2000;

    public const int MostBytesOfOrganisation = 5000;

    protected override IEnumerable<KeyValuePair<string, string?>> Settings =>
    [
        new("Attachments:MostBytesEach", $"{MostBytesEach}"),
        new("Attachments:MostBytesOfOrganisation", $"{MostBytesOfOrganisation}"),
        new("Attachments:MostAtOnce", "3"),
    ];
}
