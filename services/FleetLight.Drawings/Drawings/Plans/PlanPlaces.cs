using System.Text.Json;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.PageParts.Wording;

namespace FleetLight.PageParts.Drawings.Plans;

/// <summary>Reads out of a feature's properties how well its position is known, and from where it was taped.</summary>
internal static class PlanPlaces
{
    /// <summary>The error ellipse; none where there is none.</summary>
    public static PlanEllipse? EllipseOf(JsonElement known) => Member<ErrorEllipseView>(known, "errorEllipse") is { } ellipse
        ? new(ellipse.SemiMajorMetres, ellipse.SemiMinorMetres, ellipse.BearingDegrees)
        : null;

    /// <summary>What is to be said of it, in plain words.</summary>
    public static IEnumerable<string> SaysOf(JsonElement known)
    {
        if (Member<PlacementView>(known, "placement") is not { } place) yield break;
        yield return PlaceWords.HowWell(place);
        if (PlaceWords.Tapes(place) is { } tapes) yield return tapes;
        else if (PlaceWords.FindBy(place) is { } found) yield return $"to be found {found}";
    }

    private static T? Member<T>(JsonElement known, string name)
        where T : class
    {
        if (!known.TryGetProperty(name, out var value) || value.ValueKind != JsonValueKind.Object) return null;
        try
        {
            return value.Deserialize<T>(WireJson.Lenient);
        }
        catch (JsonException)
        {
            // In words of a newer service.
            return null;
        }
    }
}
