using FleetLight.Field;
using FleetLight.Field.Keeping;
using FleetLight.Field.Recording;
using FleetLight.Field.Sites;
using Microsoft.AspNetCore.Components.WebAssembly.Hosting;

var builder = WebAssemblyHostBuilder.CreateDefault(args);
builder.RootComponents.Add<App>("#app");
builder.Services.AddSingleton(TimeProvider.System);
builder.Services.AddScoped(services => new HttpClient { BaseAddress = new Uri(new Uri(builder.HostEnvironment.BaseAddress), "/") });
builder.Services.AddScoped<FieldStore>();
builder.Services.AddScoped<SiteState>();
builder.Services.AddScoped<JustKept>();
builder.Services.AddScoped<ISiteState>(services => services.GetRequiredService<SiteState>());
await builder.Build().RunAsync();
