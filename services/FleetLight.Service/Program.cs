using FleetLight.Service.Health;
using FleetLight.Service.Hosting;
using FleetLight.Service.Rebuilding;

if (args is ["rebuild", .. var rest]) return await RebuildCommand.RunAsync(rest);

if (args is [HealthCommand.Word, ..]) return await HealthCommand.RunAsync(args, Console.Out);
await using var app = ServiceHost.Build(args);
await app.RunAsync();
return 0;
