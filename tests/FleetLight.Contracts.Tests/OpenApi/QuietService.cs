using FleetLight.Service.Hosting;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.TestHost;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;

namespace FleetLight.Contracts.Tests.OpenApi;

/// <summary>The service within this process, without its workers: it answers what needs no database.</summary>
public sealed class QuietService : IAsyncLifetime
{
    private readonly WebApplication app = ServiceHost.Build(
        ["--ConnectionStrings:FleetLight=Host=none.invalid", "--Serilog:MinimumLevel:Default=Error"],
        builder =>
        {
            builder.WebHost.UseTestServer();
            builder.Host.UseServiceProviderFactory(new WithoutWorkers());
        });

    /// <summary>Sends requests to it.</summary>
    public HttpClient Client => app.GetTestClient();

    /// <inheritdoc/>
    public async ValueTask InitializeAsync() => await app.StartAsync();

    /// <inheritdoc/>
    public ValueTask DisposeAsync() => app.DisposeAsync();

    // The workers look for the database as they start. Only the one that runs the web server is left.
    private sealed class WithoutWorkers : IServiceProviderFactory<IServiceCollection>
    {
        public IServiceCollection CreateBuilder(IServiceCollection services)
        {
            foreach (var worker in services.Where(IsWorker).ToList()) services.Remove(worker);
            return services;
        }

        public IServiceProvider CreateServiceProvider(IServiceCollection containerBuilder) => containerBuilder.BuildServiceProvider();

        private static bool IsWorker(ServiceDescriptor service) =>
            service.ServiceType == typeof(IHostedService) && service.ImplementationType?.Name != "GenericWebHostService";
    }
}
