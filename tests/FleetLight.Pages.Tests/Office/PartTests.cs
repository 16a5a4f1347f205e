using FleetLight.Contracts.Views;
using FleetLight.PageParts.Fleet;
using FleetLight.PageParts.Lists;
using FleetLight.Testing.Builders;
using FleetLight.Testing.Service;

namespace FleetLight.Pages.Tests.Office;

/// <summary>What the pages of the office work out by themselves, without a browser.</summary>
public sealed class PartTests
{
    [Fact]
    public void A_plan_is_true_to_scale_about_its_middle()
    {
        // A minute of latitude is a nautical mile: 1,853 m on a sphere of the earth's mean radius.
        PlanLayout plan = new(new PlanWindow(10, 51, 10), 900, 440);
        var (x, y) = plan.Place(10, 51 + (1 / 60.0));
        Assert.Equal(450, x, 0.01);
        Assert.Equal(220 - 185.3, y, 0.1);

        // A minute of longitude is shorter by the cosine of the latitude.
        var (east, _) = plan.Place(10 + (1 / 60.0), 51);
        Assert.Equal(450 + (185.3 * Math.Cos(51 * Math.PI / 180)), east, 0.1);
        var (longitude, latitude) = plan.Position(x, y);
        Assert.Equal(10, longitude, 1e-9);
        Assert.Equal(51 + (1 / 60.0), latitude, 1e-9);
    }

    [Fact]
    public void Sites_that_cannot_be_told_apart_are_one_mark_with_the_worst_of_them()
    {
        PlanSite[] sites = [new("a", "A", 10, 51, "within"), new("b", "B", 10.00001, 51, "outside"), new("c", "C", 10.1, 51.05, "within")];
        PlanLayout plan = new(PlanLayout.Around(sites, 900, 440), 900, 440);

        var marks = plan.Marks(sites);

        Assert.Equal(2, marks.Count);
        var both = marks.Single(mark => mark.Sites.Count == 2);
        Assert.Equal("outside", both.Worst);
        Assert.Equal("b", both.Sites[0].Id);
    }

    [Fact]
    public void No_site_is_lost_among_few_marks()
    {
        PlanSite[] sites = [.. Enumerable.Range(0, 500).Select(n => new PlanSite($"s{n}", $"S {n}", 9.5 + (n * 37 % 500 * 0.002), 50.5 + (n * 91 % 500 * 0.0012), "within"))];
        PlanLayout plan = new(PlanLayout.Around(sites, 900, 440), 900, 440);

        var marks = plan.Marks(sites);

        Assert.Equal(sites.Length, marks.Sum(mark => mark.Sites.Count));
        Assert.InRange(marks.Count, 20, 250);
        // The mark of several is 48 pixels wide and 28 high: none hides another.
        Assert.DoesNotContain(marks, one => marks.Any(other => other != one && Math.Abs(one.X - other.X) < 48 && Math.Abs(one.Y - other.Y) < 28));
    }

    [Theory]
    [InlineData(1, "100 m")]
    [InlineData(12.5, "2 km")]
    [InlineData(0.5, "50 m")]
    public void The_scale_is_a_round_length(double metresPerPixel, string says)
    {
        PlanLayout plan = new(new PlanWindow(10, 51, metresPerPixel), 900, 440);

        Assert.Equal(says, plan.Scale().Says);
        Assert.NotEmpty(plan.Meridians());
        Assert.NotEmpty(plan.Parallels());
    }

    [Fact]
    public void A_refused_event_is_checked_as_the_service_does_and_mended_at_its_member()
    {
        var sent = SentEvent.Of("urn:device:a", "e1", 1, Device.Began, Facts.DuctLaid()).ChangeData(data => data["lengthMetres"] = 9900);

        var fault = FactMending.Check(sent.Text, "urn:device:a")!;
        Assert.Equal("data.lengthMetres", fault.Field);
        Assert.Equal("9900", FactMending.Member(sent.Text, fault.Field));

        var mended = FactMending.With(sent.Text, fault.Field!, "99")!;
        Assert.Null(FactMending.Check(mended, "urn:device:a"));
        Assert.Equal("source", FactMending.Check(mended, "urn:device:b")!.Field);
    }

    [Theory]
    [InlineData("not json", null)]
    [InlineData("[]", null)]
    [InlineData("""{"source":"urn:device:a","type":"fleetlight.no-such.v1"}""", "type")]
    [InlineData("""{"source":"urn:device:a","type":"fleetlight.duct.laid.v1","time":"yesterday"}""", "time")]
    [InlineData("""{"source":"urn:device:a","type":"fleetlight.duct.laid.v1","time":"2026-05-04T10:00:00Z"}""", "data")]
    public void What_is_wrong_with_the_envelope_is_said(string text, string? field)
    {
        var fault = FactMending.Check(text, "urn:device:a");

        Assert.NotNull(fault);
        Assert.Equal(field, fault.Field);
        Assert.NotNull(fault.Remedy);
    }

    [Fact]
    public void A_member_within_a_list_is_mended_and_a_path_that_leads_nowhere_is_not()
    {
        const string Text = """{"data":{"cores":[{"core":"brown"},{"core":7}]}}""";

        Assert.Equal("7", FactMending.Member(Text, "data.cores[1].core"));
        Assert.Equal("\"blue\"", FactMending.Member(FactMending.With(Text, "data.cores[1].core", "blue")!, "data.cores[1].core"));
        Assert.Null(FactMending.With(Text, "data.cores[5].core", "blue"));
        Assert.Null(FactMending.With("no json", "data", "1"));
    }

    [Fact]
    public async Task Only_the_pages_in_sight_are_read_again()
    {
        List<string?> asked = [];
        var changed = 0;
        Task<Page<int>> ReadAsync(string? cursor, int limit, CancellationToken cancel)
        {
            asked.Add(cursor);
            var from = int.Parse(cursor ?? "0", System.Globalization.CultureInfo.InvariantCulture);
            return Task.FromResult(new Page<int> { Items = [.. Enumerable.Range(from + changed, limit)], Next = from + limit < 1000 ? $"{from + limit}" : null });
        }

        PagedLines<int> lines = new();
        await lines.ReachAsync(250, ReadAsync, TestContext.Current.CancellationToken);
        Assert.Equal([null, "100", "200"], asked);
        Assert.Equal(300, lines.Count);
        Assert.Equal(400, lines.Shown);

        asked.Clear();
        changed = 5000;
        await lines.ReadAgainAsync(120, 20, ReadAsync, TestContext.Current.CancellationToken);
        Assert.Equal(["100"], asked);
        Assert.Equal([5120, 5121], lines.Slice(120, 2));
        Assert.Equal([98, 99, 5100], lines.Slice(98, 3));
        Assert.Equal(200, lines.Slice(200, 1).Single());
    }
}
