using FleetLight.Contracts;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Files;

namespace FleetLight.Record.Tests.Files;

public sealed class ThingFileTests
{
    private static readonly DateTimeOffset Noon = new(2026, 5, 1, 12, 0, 0, TimeSpan.Zero);
    private readonly Crew crew = new();

    [Fact]
    public void A_fact_that_is_there_already_changes_nothing()
    {
        var fact = crew.Records(Facts.DuctLaid());
        var file = Of(fact);

        Assert.Same(file, file.With(fact));
    }

    [Fact]
    public void Facts_of_the_same_time_are_ordered_by_source_then_number_then_id()
    {
        var (one, other) = (new Crew("crew-b"), new Crew("crew-a"));
        RecordedFact[] facts =
        [
            one.Records(Facts.DuctLaid(), Noon), one.Records(Facts.DuctLabelled(), Noon),
            other.Records(Facts.DuctLaid(), Noon), other.Records(
                Facts.DuctLabelled(),
                Noon.ToOffset(TimeSpan.FromHours(2))),
        ];

        Assert.Equal(["crew-a#f1", "crew-a#f2", "crew-b#f1", "crew-b#f2"], Keys(Of(facts)));
    }

    [Fact]
    public void As_of_a_time_leaves_out_what_happened_later_and_what_was_known_later()
    {
        var early = crew.Records(Facts.DuctLaid(), Noon, recordedAt: Noon.AddDays(3));
        var late = crew.Records(Facts.DuctLabelled(), Noon.AddDays(1), recordedAt: Noon.AddDays(1));
        var file = Of(early, late);

        Assert.Equal(["crew-a#f1"], Keys(file.AsOf(Noon, null)));
        Assert.Equal(["crew-a#f2"], Keys(file.AsOf(null, Noon.AddDays(2))));
        Assert.Same(file, file.AsOf(null, null));
    }

    [Fact]
    public void What_a_correction_says_holds_for_the_past_as_soon_as_it_is_known()
    {
        var laid = crew.Records(Facts.DuctLaid(), Noon, recordedAt: Noon);
        var withdrawn = crew.Records(Facts.Withdrawn(laid), Noon.AddDays(5), recordedAt: Noon.AddDays(5));
        var file = Of(laid, withdrawn);

        Assert.Equal(2, file.AsOf(Noon, null).Facts.Length);
        Assert.Single(file.AsOf(Noon, Noon.AddDays(1)).Facts);
    }

    private static ThingFile Of(params RecordedFact[] facts) =>
        facts.Aggregate(ThingFile.Empty(ThingKind.Duct, Facts.Duct), (file, fact) => file.With(fact));

    private static IEnumerable<string> Keys(ThingFile file) => file.Facts.Select(fact => FactKey.Of(fact.Of));
}
