using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.People;
using Microsoft.IdentityModel.Tokens;

namespace FleetLight.Service.Tests.Access;

/// <summary>A service that takes the tokens of two providers: one names the organisation in its tokens, one belongs to one.</summary>
public sealed class PeopleService : FleetService
{
    public const string OwnOrganisation = "harbour-lights";

    private readonly DirectoryInfo secrets = Directory.CreateTempSubdirectory("fleetlight-secrets-");
    private readonly LocalProvider shared = new();
    private readonly LocalProvider own = new();

    public PeopleService()
    {
        shared.Serve(Rsa, Curve);
        own.Serve(OwnKey);
    }

    internal RsaSecurityKey Rsa { get; } = SigningKeys.Rsa("r1");

    internal ECDsaSecurityKey Curve { get; } = SigningKeys.EllipticCurve("e1");

    internal RsaSecurityKey OwnKey { get; } = SigningKeys.Rsa("o1");

    internal string SecretsFolder => secrets.FullName;

    internal LocalProvider Shared => shared;

    internal LocalProvider Own => own;

    public override async ValueTask DisposeAsync()
    {
        GC.SuppressFinalize(this);
        await base.DisposeAsync();
        await shared.DisposeAsync();
        await own.DisposeAsync();
        secrets.Delete(recursive: true);
    }

    protected override IEnumerable<KeyValuePair<string, string?>> Settings => new Dictionary<string, string?>
    {
        ["FLEETLIGHT_SECRETS"] = secrets.FullName,
        ["Access:Issuers:0:Authority"] = shared.Address,
        ["Access:Issuers:0:Audience"] = "fleetlight",
        ["Access:Issuers:0:AllowHttp"] = "true",
        ["Access:Issuers:0:OrganisationClaim"] = "org",
        ["Access:Issuers:0:RoleClaim"] = "realm.roles",
        ["Access:Issuers:0:Roles:lighting-office"] = "office",
        ["Access:Issuers:0:Roles:lighting-crew"] = "crew-lead",
        ["Access:Issuers:0:Roles:lighting-boss"] = "administrator",
        ["Access:Issuers:0:AskAgainSeconds"] = "1",
        ["Access:Issuers:0:Refused:0"] = "u-gone",
        ["Access:Issuers:0:Refused:1"] = "stolen-token",
        ["Access:Issuers:1:Authority"] = own.Address,
        ["Access:Issuers:1:Audience"] = "fleetlight",
        ["Access:Issuers:1:AllowHttp"] = "true",
        ["Access:Issuers:1:Organisation"] = OwnOrganisation,
        ["Access:Issuers:1:RoleClaim"] = "realm.roles",
    };
}
