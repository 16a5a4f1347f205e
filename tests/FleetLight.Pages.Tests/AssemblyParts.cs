global using FleetLight.Testing;
global using Xunit;

[assembly: AssemblyFixture(typeof(FleetLight.Pages.Tests.Browsing.RunningService))]
