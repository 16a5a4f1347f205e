namespace FleetLight.Service.Hosting;

/// <summary>Where the service is reached from outside.</summary>
public static class PublicAddress
{
    /// <summary>Name of the setting; without it, the address by which it was asked is taken.</summary>
    public const string Setting = "FLEETLIGHT_PUBLIC_URL";

    /// <summary>The address without a slash at its end.</summary>
    public static string Of(HttpRequest request, IConfiguration configuration) =>
        (configuration[Setting] is { Length: > 0 } set ? set : $"{request.Scheme}://{request.Host}{request.PathBase}").TrimEnd('/');
}
