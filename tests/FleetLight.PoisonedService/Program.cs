using FleetLight.PoisonedService;
using FleetLight.Service.Hosting;
using FleetLight.Service.Works;
using Marten;

await using var app = ServiceHost.Build(args, builder =>
{
    builder.Services.AddSingleton<WorksFolds>(new PoisonedFolds());
    builder.Services.ConfigureMarten(Unreadable.Add);
});
await app.RunAsync();
