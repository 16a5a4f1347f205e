namespace FleetLight.Service.Hosting;

/// <summary>
/// Settings out of files, one a setting, named like the environment variable: secrets then stand in no environment and no
/// command line.
/// </summary>
public static class SecretFiles
{
    private const string Setting = "FLEETLIGHT_SECRETS";
    private const string Usual = "/run/secrets";

    /// <summary>The folder that they lie in.</summary>
    public static string Folder(IConfiguration configuration)
    {
        ArgumentNullException.ThrowIfNull(configuration);
        return configuration[Setting] ?? Usual;
    }

    /// <summary>Adds them. A folder that is named has to be there.</summary>
    public static void AddSecretFiles(this WebApplicationBuilder builder)
    {
        ArgumentNullException.ThrowIfNull(builder);
        builder.Configuration.AddKeyPerFile(Folder(builder.Configuration), optional: builder.Configuration[Setting] is null);
    }
}
