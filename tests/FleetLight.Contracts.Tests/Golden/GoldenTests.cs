using System.Text.Json.Nodes;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Alerts;
using FleetLight.Record.Circuits;
using FleetLight.Record.Visits;
using FleetLight.Service.Audit;
using FleetLight.Service.Judgement;
using FleetLight.Service.Photos;
using FleetLight.Service.Store;

namespace FleetLight.Contracts.Tests.Golden;

/// <summary>
/// Every version of every event that was ever accepted lies in contracts/golden as the store wrote it then, and is read and
/// folded for ever. A golden file is made once, for a new version, with FLEETLIGHT_APPROVE=1; it is never made again.
/// </summary>
public class GoldenTests
{
    private const string Folder = "contracts/golden";

    public static TheoryData<string> Names => [.. Stored.Types.Keys.Order(StringComparer.Ordinal)];

    private static IEnumerable<(string Name, object Event)> All => Stored.Types.Keys.Order(StringComparer.Ordinal)
        .Select(name => (name, Stored.Read(name, Text(name))));

    [Fact]
    public void Every_fact_is_stored_under_the_name_by_which_it_travels() => Assert.Equal(
        FactTypes.All.Select(pair => pair.Key).Append("fleetlight.alert.acknowledged.v1").Append("fleetlight.alert.cleared.v1")
            .Append("fleetlight.alert.raised.v1").Append("fleetlight.alert.updated.v1")
            .Append("fleetlight.attachment.kept.v1").Append("fleetlight.audit.act-done.v1")
            .Append("fleetlight.judging.again.v1").Append("fleetlight.judging.set.v1")
            .Append("fleetlight.set-aside.again.v1")
            .Append("fleetlight.visit.called-off.v1").Append("fleetlight.visit.changed.v1").Append("fleetlight.visit.done.v1")
            .Append("fleetlight.visit.planned.v1").Order(StringComparer.Ordinal),
        Stored.Types.Keys.Order(StringComparer.Ordinal));

    [Theory]
    [MemberData(nameof(Names))]
    public void What_was_stored_is_read_and_says_the_same(string name)
    {
        if (Approved.Writes && !File.Exists(PathOf(name))) Approved.Check($"{Folder}/{name}.json", Pretty(Stored.Write(FirstGolden.Of(name))));
        var golden = JsonNode.Parse(Text(name))!;
        var again = JsonNode.Parse(Stored.Write(Stored.Read(name, Text(name))))!;
        Assert.True(Holds(again, golden), $"kept: {golden}\nread: {again}");
    }

    [Fact]
    public void Nothing_lies_there_that_the_store_no_longer_knows()
    {
        Assert.SkipWhen(Approved.Writes, "The files are being written.");
        Assert.Equal(
            Stored.Types.Keys.Order(StringComparer.Ordinal),
            Directory.EnumerateFiles(Repository.At(Folder)).Select(file => Path.GetFileNameWithoutExtension(file)).Order(StringComparer.Ordinal));
    }

    [Fact]
    public void What_was_stored_folds_into_the_job_it_tells_of()
    {
        Assert.SkipWhen(Approved.Writes, "The files are being written.");
        var works = new GoldenWorks([.. All.Select(each => each.Event).OfType<IKept>().Select(kept => new RecordedFact(kept.Of, kept.Fact))]);
        Assert.Equal("Walled garden, plot 14", works.View<SiteView>(ThingKind.Site, "s-plot-14").Name);
        var duct = works.View<DuctView>(ThingKind.Duct, "d-steps");
        Assert.Equal("D1 steps", duct.Labels![RunEnd.Near]);
        Assert.True(duct.StringInside);
        Assert.Equal([RunEnd.Far], duct.PluggedEnds);
        Assert.Contains(duct.Findings, finding => finding.Rule == "duct-left-open");
        Assert.Equal(1, works.View<CableView>(ThingKind.Cable, "k-steps").SpareCores);
        var box = works.View<BoxView>(ThingKind.Box, "b-steps");
        Assert.True(box.GelFilled);
        Assert.Single(box.Joints);
        Assert.Equal(["fleetlight.photo.taken.v1", "fleetlight.place.measured.v1"], box.Facts.TakeLast(2).Select(fact => fact.Type));
        Assert.Equal(2, box.Placements!.Count);
        Assert.Equal("garage-nw", Assert.Single(works.View<SiteView>(ThingKind.Site, "s-plot-14").ReferencePoints!).PointId);
        Assert.Equal("b-steps", works.View<BoxView>(ThingKind.Box, "b-steps-again").SameAs);
        var circuit = works.Circuit("c-steps");
        Assert.Equal(CircuitPhase.HandedOver, circuit.Phase);
        Assert.Empty(circuit.OpenFaults);
        Assert.Equal(9.36, Assert.Single(circuit.LastReadings).Value);
    }

    [Fact]
    public void What_was_stored_of_an_alert_folds_into_its_life()
    {
        Assert.SkipWhen(Approved.Writes, "The files are being written.");
        var life = All.Select(each => each.Event).OfType<IAlertEvent>().OrderBy(happened => happened.At).ToList();
        Assert.Equal(4, life.Count);
        var alert = AlertFold.Fold(life)!;
        Assert.Equal(AlertStanding.Cleared, alert.Standing);
        Assert.Equal(1, alert.TimesRaised);
        Assert.Equal("Office", alert.AcknowledgedBy);
        Assert.Equal("duct-left-open", alert.Finding.Rule);
    }

    [Fact]
    public void What_was_stored_of_a_visit_folds_into_its_life()
    {
        Assert.SkipWhen(Approved.Writes, "The files are being written.");
        var life = All.Select(each => each.Event).OfType<IVisitEvent>().OrderBy(happened => happened.At).ToList();
        Assert.Equal(4, life.Count);
        var visit = VisitFold.Fold(life.Where(happened => happened is not VisitCalledOff))!;
        Assert.Equal((VisitState.Done, 3, new DateOnly(2026, 3, 13)), (visit.State, visit.Version, visit.Day));
        Assert.Equal(("Office", "Crew lead", "Van 3", "Both ends plugged."), (visit.PlannedBy, visit.ChangedBy, visit.EndedBy, visit.EndNote));
        Assert.Null(visit.Note);
    }

    [Fact]
    public void What_was_stored_of_a_picture_names_it_as_its_fact_does()
    {
        Assert.SkipWhen(Approved.Writes, "The files are being written.");
        var kept = Assert.Single(All.Select(each => each.Event).OfType<AttachmentKept>());
        var photo = Assert.Single(All.Select(each => each.Event).OfType<IKept>().Select(fact => fact.Fact).OfType<PhotoTaken>());
        Assert.Equal((photo.Sha256, photo.MediaType, photo.SizeBytes), (kept.Sha256, kept.MediaType, kept.SizeBytes));
    }

    [Fact]
    public void What_was_stored_of_settings_judges_as_it_says()
    {
        Assert.SkipWhen(Approved.Writes, "The files are being written.");
        var set = Assert.Single(All.Select(each => each.Event).OfType<JudgingSet>());
        var judging = new Judging(set.Version, set.Settings);
        Assert.Equal(12, judging.Assumptions.Buried.Celsius);
        Assert.Equal([1.2, 1.6, 3], judging.Options.CatalogueWatts);
        Assert.Equal(["c-steps"], Assert.Single(All.Select(each => each.Event).OfType<CircuitsToJudgeAgain>()).CircuitIds);
    }

    [Fact]
    public void What_was_stored_of_administering_says_who_did_what()
    {
        Assert.SkipWhen(Approved.Writes, "The files are being written.");
        var act = Assert.Single(All.Select(each => each.Event).OfType<ActDone>());
        Assert.Equal((AdministrativeAct.KeyMade, "0a1b2c3d4e5f", "192.0.2.7"), (act.Act, act.Target, act.From));
        Assert.Equal(new Actor(ActorKind.Person, "https://people.example#u-17", "Office"), act.By);
        Assert.Equal("device", act.Details!["role"]);
    }

    // Members that came later may be added with what stands for "not said"; none that was stored may be lost or changed.
    private static bool Holds(JsonNode? now, JsonNode? then) => (now, then) switch
    {
        (JsonObject o, JsonObject was) => was.All(member => Holds(o[member.Key], member.Value)),
        (JsonArray list, JsonArray was) => list.Count == was.Count && list.Zip(was).All(pair => Holds(pair.First, pair.Second)),
        _ => JsonNode.DeepEquals(now, then),
    };

    private static string Pretty(string json) => Approved.Text(JsonNode.Parse(json)!);

    private static string PathOf(string name) => Repository.At($"{Folder}/{name}.json");

    private static string Text(string name) => File.ReadAllText(PathOf(name));
}
