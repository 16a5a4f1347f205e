using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Demo.Planning;

namespace FleetLight.Demo.Tests.Works;

/// <summary>All work is done properly, but where something is planted.</summary>
public sealed class WorkmanshipTests
{
    [Theory]
    [MemberData(nameof(FleetTests.Seeds), MemberType = typeof(FleetTests))]
    public void Every_duct_is_labelled_and_after_its_last_pull_holds_a_string_and_is_plugged(long seed)
    {
        var fleet = Some.Fleet(seed);
        var odd = new Dictionary<Role, List<string>> { [Role.DuctUnlabelled] = [], [Role.StringForgotten] = [], [Role.DuctLeftOpen] = [] };
        var told = fleet.Entries().Where(entry => entry.Fact is DuctLabelled or StringLeft or DuctPlugged or CablePulled).OrderBy(entry => entry.At).ToArray();
        foreach (var duct in fleet.Entries().Select(entry => entry.Fact).OfType<DuctLaid>())
        {
            var lastPull = told.Where(entry => entry.Fact is CablePulled pulled && pulled.DuctIds.Contains(duct.DuctId)).Select(entry => entry.At).DefaultIfEmpty().Max();
            var after = told.Where(entry => entry.At > lastPull).Select(entry => entry.Fact).ToArray();
            if (!told.Any(entry => entry.Fact is DuctLabelled labelled && labelled.DuctId == duct.DuctId)) odd[Role.DuctUnlabelled].Add(duct.DuctId);
            if (!after.OfType<StringLeft>().Any(left => left.DuctId == duct.DuctId)) odd[Role.StringForgotten].Add(duct.DuctId);
            if (after.OfType<DuctPlugged>().Where(plug => plug.DuctId == duct.DuctId).Select(plug => plug.End).Distinct().Count() < 2) odd[Role.DuctLeftOpen].Add(duct.DuctId);
        }

        Assert.All(odd, pair => Assert.Equal([fleet.With(pair.Key).Chosen.OwnDuct.Id], pair.Value));
    }

    [Theory]
    [MemberData(nameof(FleetTests.Seeds), MemberType = typeof(FleetTests))]
    public void Only_the_planted_series_connector_holds_more_than_two_conductors(long seed)
    {
        var fleet = Some.Fleet(seed);
        var crowded = fleet.Entries().Select(entry => entry.Fact).OfType<JointMade>()
            .Where(joint => joint.Arrangement == JointArrangement.Series && joint.Connectors.Any(connector => connector.Conductors.Length > 2));
        Assert.Equal(fleet.With(Role.ThreeInConnector).Chosen.Box.Id, Assert.Single(crowded).BoxId);
    }

    [Theory]
    [MemberData(nameof(FleetTests.Seeds), MemberType = typeof(FleetTests))]
    public void Every_core_and_lead_of_a_series_circuit_is_joined_at_both_ends(long seed)
    {
        var fleet = Some.Fleet(seed);
        foreach (var circuit in fleet.Circuits.Where(each => each.Design.Drive == DriveKind.ConstantCurrent && each.Role != Role.ThreeInConnector))
        {
            var held = fleet.Entries().Select(entry => entry.Fact).OfType<JointMade>().Where(joint => joint.CircuitId == circuit.Id)
                .DistinctBy(joint => joint.JointId).SelectMany(joint => joint.Connectors).SelectMany(connector => connector.Conductors).ToArray();
            // Each fitting has two leads; each cable two cores with two ends, but the two ends at the driver.
            Assert.Equal((2 * circuit.Design.Fittings.Length) + (4 * circuit.Runs.Count) - 2, held.Length);
        }
    }

    [Theory]
    [MemberData(nameof(FleetTests.Seeds), MemberType = typeof(FleetTests))]
    public void Cables_are_longer_than_their_ducts_and_shorter_than_a_slip(long seed)
    {
        foreach (var run in Some.Fleet(seed).Circuits.SelectMany(circuit => circuit.Runs))
        {
            var ducts = run.Ducts.Sum(duct => duct.Laid.LengthMetres);
            Assert.InRange(run.PulledMetres, ducts + 1, ducts + 3);
        }
    }
}
