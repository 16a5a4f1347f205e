using FleetLight.Contracts;

namespace FleetLight.Labels;

/// <summary>What one label says.</summary>
/// <param name="Kind">Kind of the thing.</param>
/// <param name="Id">The thing.</param>
/// <param name="End">The end that it is for, where the thing has two.</param>
/// <param name="Title">What people call the thing.</param>
/// <param name="Lines">What else it says, the most wanted first.</param>
public sealed record LabelText(ThingKind Kind, string Id, RunEnd? End, string Title, IReadOnlyList<string> Lines)
{
    /// <summary>What the QR code on the label says: the address of the thing's page.</summary>
    /// <param name="publicAddress">Where the service is reached, without a slash at the end.</param>
    public string Address(string publicAddress) => $"{publicAddress.TrimEnd('/')}/field/t/{Word(Kind)}/{Uri.EscapeDataString(Id)}";

    /// <summary>Name of a kind in addresses.</summary>
    public static string Word(ThingKind kind) => kind.ToString().ToLowerInvariant();
}
