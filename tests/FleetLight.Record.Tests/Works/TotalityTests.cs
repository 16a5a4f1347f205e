using FleetLight.Contracts.Wire;
using FleetLight.Record.Checks;
using FsCheck;
using FsCheck.Xunit;

namespace FleetLight.Record.Tests.Works;

/// <summary>Law: any facts that pass the check give states, never an exception.</summary>
public sealed class TotalityTests
{
    [Property(MaxTest = 500, StartSize = 1, EndSize = 60)]
    public void Any_facts_give_states(PositiveInt size, DoNotSize<int> seed)
    {
        var dice = new Dice(seed.Item);
        Crew[] crews = [new("crew-a"), new("crew-b"), new("office")];
        var works = new WorksModel();

        for (var i = 0; i < size.Get; i++)
        {
            var fact = dice.Of(crews).Records(AnyFact.Of(dice), Crew.Start.AddHours(dice.Below(48)));
            // A fact that does not pass is refused before it is recorded; the check itself answers all of them.
            if (FactCheck.Check(fact.Data).Count == 0) works.Take(fact);
        }

        Assert.NotNull(works.Json());
    }

    [Property(MaxTest = 300, StartSize = 1, EndSize = 60)]
    public void Facts_that_would_not_pass_give_states_as_well(PositiveInt size, DoNotSize<int> seed)
    {
        var dice = new Dice(seed.Item);
        var crew = new Crew();
        var works = new WorksModel();
        RecordedFact[] facts = [.. Enumerable.Range(0, size.Get).Select(_ => crew.Records(AnyFact.Of(dice)))];

        works.Take(facts);

        Assert.NotNull(works.Json());
    }
}
