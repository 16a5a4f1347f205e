using System.Globalization;
using FleetLight.Contracts;
using FleetLight.Contracts.Views;

namespace FleetLight.Labels;

/// <summary>
/// What the labels of a site say: one for each end of a duct and a cable, one for a box, and one for a circuit, which goes on its
/// driver. A thing that carries a label already is called what that says, else by its id.
/// </summary>
public static class SiteLabels
{
    private static readonly RunEnd[] Ends = [RunEnd.Near, RunEnd.Far];

    /// <summary>Those of a duct.</summary>
    public static IEnumerable<LabelText> Of(DuctView duct)
    {
        ArgumentNullException.ThrowIfNull(duct);
        var title = duct.Labels?.GetValueOrDefault(RunEnd.Near) ?? duct.Labels?.GetValueOrDefault(RunEnd.Far) ?? duct.Id;
        var what = Joined(duct.Service is { } service ? Said(service) : null, Number(duct.BoreMillimetres, "mm"), Number(duct.LengthMetres, "m"));
        return Ends.Select(end => new LabelText(ThingKind.Duct, duct.Id, end, title, Some(Leading(end, end == RunEnd.Near ? duct.FarEndAt : duct.NearEndAt), what)));
    }

    /// <summary>Those of a cable.</summary>
    /// <param name="cable">The cable.</param>
    /// <param name="nameOf">What people call a circuit.</param>
    public static IEnumerable<LabelText> Of(CableView cable, Func<string, string> nameOf)
    {
        ArgumentNullException.ThrowIfNull(cable);
        var title = cable.Labels?.GetValueOrDefault(RunEnd.Near) ?? cable.Labels?.GetValueOrDefault(RunEnd.Far) ?? cable.Id;
        var circuits = cable.Cores.Select(core => core.CircuitId).OfType<string>().Distinct().Select(nameOf).ToList();
        var kind = cable.AreaSquareMillimetres is { } area && cable.Cores.Count > 0
            ? $"{cable.Cores.Count.ToString(CultureInfo.InvariantCulture)} × {Number(area, "mm²")}"
            : null;
        return Ends.Select(end => new LabelText(ThingKind.Cable, cable.Id, end, title, Some(Joined(Leading(end, null), kind), Joined([.. circuits]))));
    }

    /// <summary>That of a box.</summary>
    /// <param name="box">The box.</param>
    /// <param name="nameOf">What people call a circuit.</param>
    public static LabelText Of(BoxView box, Func<string, string> nameOf)
    {
        ArgumentNullException.ThrowIfNull(box);
        return new(ThingKind.Box, box.Id, null, box.Label ?? box.Id, Some(Joined([.. box.Joints.Select(joint => joint.CircuitId).Distinct().Select(nameOf)])));
    }

    /// <summary>That of a circuit, for its driver.</summary>
    /// <param name="circuit">The circuit.</param>
    /// <param name="driver">What its driver gives, in words; none where that is not known.</param>
    public static LabelText Of(CircuitView circuit, string? driver)
    {
        ArgumentNullException.ThrowIfNull(circuit);
        return new(ThingKind.Circuit, circuit.Id, null, circuit.Name ?? circuit.Id, Some(driver, circuit.DriverAt));
    }

    private static string Leading(RunEnd end, string? to) =>
        (end == RunEnd.Near ? "near end" : "far end") + (to is null ? "" : end == RunEnd.Near ? $", to {to}" : $", from {to}");

    private static string Said(DuctService service) => service switch
    {
        DuctService.LightingExtraLowVoltage => "lighting ELV",
        DuctService.MainsSupply => "MAINS",
        DuctService.Telecoms => "telecoms",
        DuctService.Water => "water",
        DuctService.Gas => "gas",
        _ => "spare",
    };

    private static string? Number(double? value, string unit) => value is { } known ? $"{known.ToString("0.##", CultureInfo.InvariantCulture)} {unit}" : null;

    private static string? Joined(params string?[] parts) => string.Join(", ", parts.Where(part => !string.IsNullOrEmpty(part))) is { Length: > 0 } text ? text : null;

    private static IReadOnlyList<string> Some(params string?[] lines) => [.. lines.OfType<string>()];
}
