using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Files;

namespace FleetLight.Record.Visits;

/// <summary>What findings on ducts ask for.</summary>
internal static class DuctNeeds
{
    private const int Ends = 2;

    // Common practice, no source: so much is used up at the two ends together, and so much more by bends and slack.
    private const double StringAtEndsMetres = 4;
    private const double StringSlack = 1.1;

    private const string StringAssumed = "The length of the duct, a tenth more, and 2 m at each end.";

    /// <summary>A draw string through the duct.</summary>
    public static void String(Finding finding, TakeAlongList list)
    {
        if (Duct(finding, list) is not { } duct) return;
        var name = $"draw string for duct {NameOf(duct)}";
        if (duct.LengthMetres is { } length)
        {
            list.Add(
                new(TakeAlongItem.DrawString, name, duct.Id)
                {
                    LengthMetres = Math.Ceiling((length * StringSlack) + StringAtEndsMetres),
                    Assumed = StringAssumed,
                },
                $"{finding.Reason} The duct is {Words.Of(length, "m")} long.");
        }
        else
        {
            list.Add(new(TakeAlongItem.DrawString, name, duct.Id), $"{finding.Reason} How long the duct is, is not recorded.");
        }
    }

    /// <summary>Plugs for the ends that are open.</summary>
    public static void Plugs(Finding finding, TakeAlongList list)
    {
        if (Duct(finding, list) is not { } duct) return;
        var bore = duct.BoreMillimetres is { } known ? Words.Of(known, "mm") : "unknown";
        list.Add(
            new(TakeAlongItem.DuctPlug, $"duct plug for a bore of {bore}, with room for its cables", duct.Id)
            {
                Pieces = Math.Max(1, Ends - duct.PluggedEnds.Count),
                BoreMillimetres = duct.BoreMillimetres,
            },
            finding.Reason);
    }

    /// <summary>Labels for the ends that have none.</summary>
    public static void Labels(Finding finding, TakeAlongList list)
    {
        if (Duct(finding, list) is not { } duct) return;
        Tape(duct.Id, $"duct {NameOf(duct)}", Math.Max(1, Ends - (duct.Labels?.Count ?? 0)), finding, list);
    }

    /// <summary>Marks at both ends.</summary>
    public static void Marking(Finding finding, TakeAlongList list) =>
        Tape(finding.Subject.Id, $"duct {finding.Subject.Id}", Ends, finding, list);

    /// <summary>Label tape.</summary>
    public static void Tape(string id, string forWhat, int labels, Finding finding, TakeAlongList list) => list.Add(
        new(TakeAlongItem.LabelTape, "label of label tape made for wet places", id) { Pieces = labels }, $"{finding.Reason} For {forWhat}.");

    /// <summary>A pull point between the bends.</summary>
    public static void PullPoint(Finding finding, TakeAlongList list)
    {
        list.Add(new(TakeAlongItem.PullPoint, "box or pit as a pull point", finding.Subject.Id) { Pieces = 1, Assumed = "One between the bends." }, finding.Reason);
        Digging(finding, list);
    }

    /// <summary>Room elsewhere for a cable.</summary>
    public static void AnotherDuct(Finding finding, TakeAlongList list)
    {
        String(finding, list);
        list.Open($"Whether a cable goes into another duct or the record is wrong is seen on site: {finding.Remedy}");
    }

    /// <summary>A duct in the place of the one that lies there.</summary>
    public static void NewDuct(Finding finding, TakeAlongList list)
    {
        if (Duct(finding, list) is not { } duct) return;
        Lay(duct, finding, list);
    }

    /// <summary>A duct of its own for a cable that lies with another service.</summary>
    public static void OfWaterOrGas(Finding finding, TakeAlongList list)
    {
        list.Mind(TakeAlongCautions.OtherService);
        NewDuct(finding, list);
        String(finding, list);
    }

    /// <summary>More cover for a mains duct.</summary>
    public static void Cover(Finding finding, TakeAlongList list)
    {
        list.Mind(TakeAlongCautions.Mains);
        Digging(finding, list);
    }

    /// <summary>What digging asks for.</summary>
    public static void Digging(Finding finding, TakeAlongList list)
    {
        list.Mind(TakeAlongCautions.Digging);
        list.Tool(TakeAlongItem.ServiceLocator, "locator of buried services, and the drawings of them", $"{finding.Reason} The ground may have to be opened.");
        list.Tool(TakeAlongItem.HandDiggingTools, "tools to dig by hand", $"{finding.Reason} The ground may have to be opened.");
    }

    private static void Lay(DuctView duct, Finding finding, TakeAlongList list)
    {
        var bore = duct.BoreMillimetres is { } known ? Words.Of(known, "mm") : "unknown";
        list.Add(
            new(TakeAlongItem.Duct, $"duct of the kind called for, bore {bore}", duct.Id)
            {
                LengthMetres = duct.LengthMetres,
                BoreMillimetres = duct.BoreMillimetres,
                Assumed = "As long and as wide as the one that lies there.",
            },
            finding.Reason);
        Digging(finding, list);
    }

    private static DuctView? Duct(Finding finding, TakeAlongList list)
    {
        var duct = list.Ground.Ducts.GetValueOrDefault(finding.Subject.Id);
        if (duct is null) list.Open($"Nothing is known of the duct {finding.Subject.Id}: {finding.Remedy}");
        return duct;
    }

    private static string NameOf(DuctView duct) => duct.Labels is { } labels && (labels.GetValueOrDefault(RunEnd.Near) ?? labels.GetValueOrDefault(RunEnd.Far)) is { } label
        ? label
        : duct.Id;
}
