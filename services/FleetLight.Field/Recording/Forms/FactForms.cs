using FleetLight.Field.Recording.Facts;

namespace FleetLight.Field.Recording.Forms;

/// <summary>All forms.</summary>
public static class FactForms
{
    /// <summary>In the order of the first page.</summary>
    public static IReadOnlyList<FactForm> All { get; } =
    [
        new DuctLaidForm(), new StringLeftForm(), new CablePulledForm(), new BoxSealedForm(), new ReadingTakenForm(), new FittingFixedForm(),
        new PlaceMeasuredForm(), new ReferencePointForm(),
        new DuctPluggedForm(), new DuctLabelledForm(), new CableLabelledForm(), new CoreSleevedForm(), new JointMadeForm(),
        new DriverConnectedForm(), new TestMadeForm(), new CircuitEnergisedForm(), new CircuitHandedOverForm(),
        new FaultReportedForm(), new RepairMadeForm(),
        new ThingsJoinedForm(),
    ];

    /// <summary>The form of that part of the address.</summary>
    public static FactForm? Find(string key) => All.FirstOrDefault(form => form.Key == key);

    /// <summary>The form that makes facts of that type.</summary>
    public static FactForm? Of(Type? type) => All.FirstOrDefault(form => form.Type == type);

    /// <summary>The title of a group.</summary>
    public static string TitleOf(FormGroup group) => group switch
    {
        FormGroup.Usual => "The usual",
        FormGroup.InTheGround => "Ducts, cables and boxes",
        FormGroup.Circuits => "The circuit",
        FormGroup.Faults => "Faults and repairs",
        _ => "Put right",
    };
}
