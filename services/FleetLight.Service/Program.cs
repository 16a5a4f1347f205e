using FleetLight.Service.Hosting;
using FleetLight.Service.Rebuilding;

if (args is ["rebuild", .. var rest]) return await RebuildCommand.RunAsync(rest);

await using var app = ServiceHost.Build(args);
await app.RunAsync();
return 0;
