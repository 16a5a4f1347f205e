using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.PageParts.SitePages;
using NaturalOrder = FleetLight.Record.Files.NaturalOrder;

namespace FleetLight.Pages.Tests.Office.Dossiers;

/// <summary>The days of a site and its ducts, without a page around them.</summary>
public sealed class SiteDayTests
{
    private static readonly TimeZoneInfo Berlin = TimeZoneInfo.FindSystemTimeZoneById("Europe/Berlin");

    [Fact]
    public void Days_are_those_of_the_viewer_and_their_end_is_what_the_API_is_asked_for()
    {
        // 23:30 UTC is the next day in Berlin.
        DateTimeOffset[] happened = [new(2026, 3, 1, 23, 30, 0, TimeSpan.Zero), new(2026, 3, 9, 9, 0, 0, TimeSpan.Zero)];
        var scale = DayScale.Of(happened, new DateTimeOffset(2026, 4, 2, 12, 0, 0, TimeSpan.Zero), Berlin);

        Assert.Equal((new DateOnly(2026, 3, 2), new DateOnly(2026, 4, 2), 31), (scale.First, scale.Last, scale.Most));
        Assert.Equal("2026-03-02T22:59:59Z", scale.AsOf(scale.First));
        // Summer time has begun by then.
        Assert.Equal("2026-04-01T21:59:59Z", scale.AsOf(new DateOnly(2026, 4, 1)));
        Assert.Null(scale.AsOf(scale.Last));
        Assert.Equal(new DateOnly(2026, 3, 9), scale.After(scale.First));
        Assert.Null(scale.Before(scale.First));
        Assert.Equal(scale.Last, scale.At(400));
    }

    [Fact]
    public void A_site_without_a_fact_has_today_alone() =>
        Assert.Equal(0, DayScale.Of([], new DateTimeOffset(2026, 4, 2, 12, 0, 0, TimeSpan.Zero), TimeZoneInfo.Utc).Most);

    [Fact]
    public void A_duct_says_what_still_fits_only_where_that_is_known()
    {
        var known = DuctRow.Of([Duct(40, "c1")], [Cable(10)]);
        // One cable of 10 mm in 40 mm.
        Assert.Contains("One more cable of up to", Assert.Single(known).StillFits, StringComparison.Ordinal);
        Assert.Equal("Cannot be told until its thickness is recorded.", Assert.Single(DuctRow.Of([Duct(40, "c1")], [Cable(null)])).StillFits);
        Assert.Equal("Cannot be told.", Assert.Single(DuctRow.Of([Duct(null, "c1")], [Cable(10)])).StillFits);
        Assert.Equal("Empty.", Assert.Single(DuctRow.Of([Duct(40)], [])).Fill);
    }

    [Fact]
    public void Names_are_ordered_as_people_do() => Assert.Equal(["D2", "D10"], ((string[])["D10", "D2"]).Order(NaturalOrder.Comparer));

    private static DuctView Duct(double? bore, params string[] cables) => new()
    {
        Id = "d1",
        BoreMillimetres = bore,
        CableIds = cables,
        PluggedEnds = [],
        StringInside = false,
        WaitingFor = [],
        Contradictions = [],
        Findings = [],
        Facts = [],
    };

    private static CableView Cable(double? diameter) => new()
    {
        Id = "c1",
        OutsideDiameterMillimetres = diameter,
        AreaSquareMillimetres = 1.5,
        DuctIds = ["d1"],
        SpareCores = 1,
        Cores = [new CoreView { Core = "1", Use = CoreUse.Spare, Sleeves = new Dictionary<RunEnd, CorePolarity>() }],
        WaitingFor = [],
        Contradictions = [],
        Findings = [],
        Facts = [],
    };
}
