using FleetLight.Field;
using Microsoft.AspNetCore.Components.WebAssembly.Hosting;
using MudBlazor.Services;

var builder = WebAssemblyHostBuilder.CreateDefault(args);
builder.RootComponents.Add<App>("#app");
builder.Services.AddSingleton(TimeProvider.System);
builder.Services.AddScoped(services => new HttpClient { BaseAddress = new Uri(new Uri(builder.HostEnvironment.BaseAddress), "/") });
builder.Services.AddMudServices();
await builder.Build().RunAsync();
