using System.Text;
using System.Text.Json;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Demo.Planning;
using FleetLight.Demo.Works;
using FleetLight.Record.Checks;

namespace FleetLight.Demo.Tests.Works;

public sealed class FleetTests
{
    /// <summary>Seeds that the laws below are tried on.</summary>
    public static TheoryData<long> Seeds => [0, 1, 2, 3, 7, 42, 1234567890123];

    [Fact]
    public void The_same_seed_and_day_give_the_same_facts_byte_for_byte() =>
        Assert.Equal(Text(Fleet.Of(5, Some.Anchor)), Text(Fleet.Of(5, Some.Anchor.AddHours(13))));

    [Fact]
    public void Another_seed_gives_another_fleet() => Assert.NotEqual(Text(Some.Fleet(1)), Text(Some.Fleet(2)));

    [Theory]
    [MemberData(nameof(Seeds))]
    public void It_is_a_contractor_of_three_crews_twelve_sites_and_sixty_circuits_of_both_kinds(long seed)
    {
        var fleet = Some.Fleet(seed);
        Assert.Equal(12, fleet.Sites.Count);
        Assert.Equal(3, fleet.Sites.Select(site => site.Crew).Distinct().Count());
        Assert.Equal(5, fleet.Logs.Count);
        Assert.Equal(60, fleet.Circuits.Count());
        Assert.InRange(fleet.Circuits.Count(circuit => circuit.Design.Drive == DriveKind.ConstantVoltage), 15, 45);
        Assert.All(fleet.Circuits, circuit => Assert.InRange(circuit.Design.Fittings.Length, 2, 12));
        Assert.All(Enum.GetValues<Role>(), role => Assert.Contains(fleet.Circuits, circuit => circuit.Role == role));
        Assert.Contains(fleet.Circuits, circuit => circuit.Design.Runs.GroupBy(run => run.From).Any(group => group.Count() > 1));
    }

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Every_fact_keeps_its_contract_but_the_one_mistyped(long seed)
    {
        var fleet = Some.Fleet(seed);
        var wrong = fleet.Entries().Select(entry => (entry.Fact, Problems: FactCheck.Check(entry.Fact))).Where(pair => pair.Problems.Count > 0).ToArray();
        var (fact, problems) = Assert.Single(wrong);
        Assert.Equal("data.lengthMetres", Assert.Single(problems).Field);
        Assert.Equal(fleet.With(Role.LengthMistyped).Chosen.CableId, Assert.IsType<CablePulled>(fact).CableId);
    }

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Running_numbers_have_no_gap_and_follow_the_device_s_time(long seed)
    {
        foreach (var log in Some.Fleet(seed).Logs)
        {
            Assert.Equal(Enumerable.Range(1, log.Events.Count), log.Events.Select(each => each.RunningNumber));
            Assert.Equal(log.Events.OrderBy(each => each.Entry.At).Select(each => each.Entry.Id), log.Events.Select(each => each.Entry.Id));
        }
    }

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Eighteen_months_of_readings_end_some_days_before_the_day_of_loading(long seed)
    {
        var fleet = Some.Fleet(seed);
        Assert.Equal(fleet.Entries().Count(), fleet.Entries().Select(entry => entry.Id).Distinct().Count());
        Assert.All(fleet.Entries(), entry => Assert.InRange(entry.At, Some.Anchor.AddDays(-700), Some.Anchor.AddDays(-1)));
        Assert.All(fleet.LastReadAt().Values, read => Assert.InRange(read, Some.Anchor.AddDays(-12), Some.Anchor.AddDays(-2)));
        foreach (var circuit in fleet.Sites.Take(FleetPlanner.OldSites).SelectMany(site => site.Circuits))
        {
            var months = fleet.Entries().Where(entry => entry.Fact is ReadingTaken reading && reading.CircuitId == circuit.Id)
                .Select(entry => (entry.At.Year, entry.At.Month)).Distinct();
            Assert.InRange(months.Count(), 18, 22);
        }
    }

    [Theory]
    [MemberData(nameof(Seeds))]
    public void What_is_planted_stands_on_things_of_its_own(long seed)
    {
        var plants = Some.Fleet(seed).Plants;
        Assert.Equal(10, plants.Count);
        Assert.Equal(10, plants.Select(plant => plant.Subject).Distinct().Count());
        Assert.Equal(10, plants.Select(plant => plant.CircuitId).Distinct().Count());
    }

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Corrections_name_facts_that_were_recorded_before(long seed)
    {
        var entries = Some.Fleet(seed).Entries().ToArray();
        var corrections = entries.Where(entry => entry.Fact is FactCorrected).ToArray();
        Assert.Equal(2, corrections.Length);
        foreach (var correction in corrections)
        {
            var fact = (FactCorrected)correction.Fact;
            var target = entries.Single(entry => entry.Id == fact.TargetId);
            Assert.Equal(fact.TargetSource ?? correction.Device.Source, target.Device.Source);
            Assert.Equal(FactTypes.NameOf(target.Fact.GetType()), fact.TargetType);
            Assert.True(target.At < correction.At);
        }
    }

    [Theory]
    [MemberData(nameof(Seeds))]
    public void A_crew_is_on_one_building_site_at_a_time(long seed)
    {
        foreach (var sites in Some.Fleet(seed).Sites.GroupBy(site => site.Crew))
        {
            var built = sites.OrderBy(site => site.Starts).ToArray();
            foreach (var (earlier, later) in built.Zip(built.Skip(1)))
            {
                var done = Some.Fleet(seed).Entries().Where(entry => entry.Fact is CircuitHandedOver && entry.Fact.SiteId == earlier.Id).Max(entry => entry.At);
                Assert.True(done < later.Starts, $"{earlier.Id} is handed over {done:d}, {later.Id} starts {later.Starts:d}");
            }
        }
    }

    private static string Text(Fleet fleet)
    {
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream))
        {
            json.WriteStartArray();
            foreach (var each in fleet.Logs.SelectMany(log => log.Events)) each.Write(json);
            json.WriteEndArray();
        }

        return Encoding.UTF8.GetString(stream.ToArray());
    }
}
