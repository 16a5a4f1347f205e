using FleetLight.Service.Health;
using FleetLight.Service.Hosting;

if (args is [HealthCommand.Word, ..]) return await HealthCommand.RunAsync(args, Console.Out);
await using var app = ServiceHost.Build(args);
await app.RunAsync();
return 0;
