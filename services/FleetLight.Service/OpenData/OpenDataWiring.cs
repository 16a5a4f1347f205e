using FleetLight.Service.MadeFiles;
using FleetLight.Service.OpenData.GeoPackage;

namespace FleetLight.Service.OpenData;

/// <summary>Adds what the open data need.</summary>
public static class OpenDataWiring
{
    /// <summary>Adds it.</summary>
    public static void AddOpenData(this IServiceCollection services)
    {
        services.AddSingleton<FeatureIndex>();
        services.AddSingleton<FeatureCounts>();
        services.AddMadeFiles<GeoPackageOf, GeoPackageMaker>(GeoPackageMaker.Options, maker => maker.MakeAsync);
    }
}
