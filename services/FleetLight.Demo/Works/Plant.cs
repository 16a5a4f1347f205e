using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Demo.Planning;

namespace FleetLight.Demo.Works;

/// <summary>Something wrong that was planted, and what FleetLight should say of it.</summary>
/// <param name="Role">What it is.</param>
/// <param name="What">The truth, in plain words.</param>
/// <param name="CircuitId">The circuit it is on or leads to.</param>
/// <param name="Subject">The thing that is wrong.</param>
/// <param name="Where">Where that is, in plain words.</param>
/// <param name="Rules">The rules that should find it, any of them.</param>
/// <param name="Verdict">The verdict that its readings should get; none where they do not show it.</param>
/// <param name="Fault">The kind of fault that explains its readings; none where they are as they should be.</param>
internal sealed record Plant(
    Role Role,
    string What,
    string CircuitId,
    ThingRef Subject,
    string Where,
    IReadOnlyList<string> Rules,
    CircuitVerdict? Verdict = null,
    string? Fault = null)
{
    /// <summary>What is planted in a fleet, in the order of the roles.</summary>
    public static IReadOnlyList<Plant> In(IReadOnlyList<SitePlan> sites) =>
    [
        .. from site in sites
           from circuit in site.Circuits
           let plant = Of(site, circuit)
           where plant is not null
           orderby plant.Role
           select plant,
    ];

    private static Plant? Of(SitePlan site, CircuitPlan circuit)
    {
        var itself = new ThingRef(ThingKind.Circuit, circuit.Id);
        var duct = new ThingRef(ThingKind.Duct, circuit.Chosen.OwnDuct.Id);
        var box = new ThingRef(ThingKind.Box, circuit.Chosen.Box.Id);
        var fitting = circuit.ChosenFitting;
        return circuit.Role switch
        {
            Role.WrongWattage => On(
                itself, $"fitting {fitting.FittingId} is of {Repairs.OtherWatts} W, {fitting.RatedWatts} W was designed",
                ["reading-outside"], CircuitVerdict.Outside, "fitting-of-other-wattage"),
            Role.Reversed => On(
                itself, $"fitting {fitting.FittingId} is reversed, so the string is dark", ["reading-outside"], CircuitVerdict.Outside, "fitting-reversed"),
            Role.JointGoingBad => On(
                itself, $"the joint at {fitting.FittingId} goes bad: its resistance has doubled every {Repairs.DoublingDays} days for ten months",
                ["reading-drifts", "reading-outside"], CircuitVerdict.Outside, "high-resistance-joint"),
            Role.DriverNearLimit => On(
                itself, "the driver is asked for over 90 % of its greatest voltage", ["driver-at-limit"], CircuitVerdict.Within),
            Role.DuctLeftOpen => On(duct, "its far end was left open after the last pull", ["duct-left-open"]),
            Role.StringForgotten => On(duct, "no string was left in it after the last pull", ["no-string-left"]),
            Role.BoxWithoutGel => On(box, "flat in the ground, and no gel in it", ["ground-box-not-gel-filled"]),
            Role.DuctUnlabelled => On(duct, "it carries no label", ["duct-unlabelled"]),
            Role.DuctWrongColour => On(duct, "it is blue, its service calls for orange", ["duct-colour-not-of-service"]),
            Role.ThreeInConnector => On(box, "three conductors in one connector of a series joint", ["series-connector-crowded"]),
            _ => null,
        };

        Plant On(ThingRef subject, string what, IReadOnlyList<string> rules, CircuitVerdict? verdict = null, string? fault = null) => new(
            circuit.Role,
            what,
            circuit.Id,
            subject,
            $"{subject.Kind.ToString().ToLowerInvariant()} {subject.Id}, {site.Opened.Name}",
            rules,
            verdict,
            fault);
    }
}
