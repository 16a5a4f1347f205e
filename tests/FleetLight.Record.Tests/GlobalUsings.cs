global using FleetLight.Testing.Builders;
global using Xunit;
