using FleetLight.Testing.Service;

namespace FleetLight.Service.Tests.Intake;

/// <summary>A way in which a fact can be wrong, done to a good one.</summary>
/// <param name="Name">What is wrong, in words.</param>
/// <param name="Spoil">Records a good fact and spoils it.</param>
public sealed record BadFact(string Name, Func<Device, SentEvent> Spoil)
{
    public override string ToString() => Name;
}
