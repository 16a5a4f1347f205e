using Microsoft.Extensions.DependencyInjection.Extensions;

namespace FleetLight.Service.MadeFiles;

/// <summary>Adds desks.</summary>
public static class MadeFileWiring
{
    /// <summary>Adds the desk for files of a kind, and their maker.</summary>
    /// <typeparam name="TWanted">What a file is of.</typeparam>
    /// <typeparam name="TMaker">Makes them.</typeparam>
    /// <param name="services">Where.</param>
    /// <param name="options">In what the kind differs; other options that are there already go before.</param>
    /// <param name="make">How it makes one.</param>
    public static void AddMadeFiles<TWanted, TMaker>(this IServiceCollection services, MadeFileOptions<TWanted> options, Func<TMaker, MakeFile<TWanted>> make)
        where TWanted : IWantedFile where TMaker : class
    {
        services.TryAddSingleton(options);
        services.AddSingleton<TMaker>();
        services.AddSingleton(provider => make(provider.GetRequiredService<TMaker>()));
        services.AddSingleton<MadeFileDesk<TWanted>>();
    }
}
