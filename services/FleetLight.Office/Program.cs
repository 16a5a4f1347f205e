using FleetLight.Office;
using FleetLight.Office.Shell;
using FleetLight.Office.Shell.Keys;
using FleetLight.Office.Shell.Live;
using Microsoft.AspNetCore.Components.WebAssembly.Hosting;
using MudBlazor.Services;

var builder = WebAssemblyHostBuilder.CreateDefault(args);
builder.RootComponents.Add<App>("#app");
builder.Services.AddSingleton(TimeProvider.System);
builder.Services.AddScoped(services => new HttpClient
{
    BaseAddress = new Uri(new Uri(builder.HostEnvironment.BaseAddress), "/"),
    // Each call has a limit of its own, and the change feed has none.
    Timeout = Timeout.InfiniteTimeSpan,
});
builder.Services.AddScoped<KeyStore>();
builder.Services.AddScoped<LiveFeed>();
builder.Services.AddScoped<FleetLight.Office.Shell.People.PeopleSignIn>();
builder.Services.AddScoped<OfficeSession>();
builder.Services.AddScoped<SiteNames>();
builder.Services.AddScoped<FleetLight.Office.Dossiers.PageHands>();
builder.Services.AddScoped<FleetLight.Office.Design.DraftShelf>();
builder.Services.AddMudServices();
await builder.Build().RunAsync();
