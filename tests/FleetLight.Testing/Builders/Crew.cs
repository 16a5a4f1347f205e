using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;

namespace FleetLight.Testing.Builders;

/// <summary>
/// A crew's device: hands out recorded facts with its own running number and a clock that steps a minute a fact.
/// </summary>
public sealed class Crew(string source = "crew-a", DateTimeOffset? starts = null)
{
    /// <summary>When crews start unless told otherwise.</summary>
    public static readonly DateTimeOffset Start = new(2026, 3, 2, 8, 0, 0, TimeSpan.Zero);

    private DateTimeOffset clock = starts ?? Start;
    private int number;

    /// <summary>The device.</summary>
    public string Source { get; } = source;

    /// <summary>What its clock shows next.</summary>
    public DateTimeOffset Clock => clock;

    /// <summary>Lets time pass.</summary>
    public Crew Waits(double hours)
    {
        clock = clock.AddHours(hours);
        return this;
    }

    /// <summary>Records a fact, at the time of its clock or at a time given.</summary>
    public RecordedFact Records(
        IFact data,
        DateTimeOffset? at = null,
        string? id = null,
        DateTimeOffset? recordedAt = null)
    {
        number++;
        var happened = at ?? clock;
        clock = clock.AddMinutes(1);
        return new RecordedFact(
            new FactOrigin
            {
                Source = Source,
                Id = id ?? $"f{number}",
                RunningNumber = number,
                DeviceTime = happened,
                HappenedAt = happened,
                RecordedAt = recordedAt ?? happened.AddMinutes(5),
                Digest = "",
            },
            data);
    }
}
