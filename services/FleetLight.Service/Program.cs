using FleetLight.Service.Hosting;

await using var app = ServiceHost.Build(args);
await app.RunAsync();
