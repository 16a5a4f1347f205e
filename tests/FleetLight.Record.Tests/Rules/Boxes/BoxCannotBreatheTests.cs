using FleetLight.Contracts;
using FleetLight.Record.Rules.Boxes;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Boxes;

/// <summary>Common practice, no source.</summary>
public sealed class BoxCannotBreatheTests
{
    [Theory]
    [InlineData(BoxLie.OnWall)]
    [InlineData(BoxLie.OnSpike)]
    public void A_tight_box_above_ground_is_found(BoxLie lie) =>
        Job.Of(Facts.BoxSealed(lie: lie, gelFilled: false, breathing: false)).Finds(BoxCannotBreathe.Rule);

    [Fact]
    public void A_gelled_box_has_no_air_to_breathe()
    {
        Job.Of(Facts.BoxSealed(lie: BoxLie.OnWall, gelFilled: true, breathing: false)).FindsNothing(BoxCannotBreathe.Rule);
    }

    [Fact]
    public void Closing_it_with_a_vent_clears_it()
    {
        Job.Of(Facts.BoxSealed(lie: BoxLie.OnWall, gelFilled: false, breathing: false))
            .Tells(Facts.BoxSealed(lie: BoxLie.OnWall, gelFilled: false, breathing: true))
            .FindsNothing(BoxCannotBreathe.Rule);
    }
}
