using System.Globalization;
using FleetLight.Contracts.Views;
using FleetLight.Record.Files;
using FleetLight.Record.Rules;

namespace FleetLight.Record.Visits;

/// <summary>One thing wanted for one purpose.</summary>
/// <param name="Item">What kind of thing.</param>
/// <param name="Name">Its name in plain words, without how much of it.</param>
/// <param name="For">What it is for: asked for twice for the same, it is taken once.</param>
internal sealed record TakeAlongNeed(TakeAlongItem Item, string Name, string For)
{
    /// <summary>Number of pieces.</summary>
    public int? Pieces { get; init; }

    /// <summary>Length, m.</summary>
    public double? LengthMetres { get; init; }

    /// <summary>Number of conductors that a connector takes.</summary>
    public int? ConductorsEach { get; init; }

    /// <summary>Inside diameter of the duct, mm.</summary>
    public double? BoreMillimetres { get; init; }

    /// <summary>Rated power of a fitting, W.</summary>
    public double? RatedWatts { get; init; }

    /// <summary>What a label says.</summary>
    public string? Label { get; init; }

    /// <summary>What is assumed, without saying that it has no source.</summary>
    public string? Assumed { get; init; }
}

/// <summary>What a visit has to be minded for, beyond what every visit has.</summary>
[Flags]
internal enum TakeAlongCautions
{
    None = 0,
    Mains = 1,
    Digging = 2,
    Energised = 4,
    OtherService = 8,
}

/// <summary>Gathers what is wanted: the same thing for several purposes is one line, with all reasons.</summary>
internal sealed class TakeAlongList(TakeAlongGround ground)
{
    // Common practice, no source: the usual words of safe work, none of which replaces a local code.
    private const string Isolate =
        "Isolate, secure against switching on, and prove dead before you touch. Prove the prover before and after.";

    private const string OfMains =
        "The mains side, its protection and its tests are for licensed persons where the law says so.";

    private const string OfDigging =
        "Have buried services located before the ground is opened, by drawings and on the spot, and dig by hand near them; local rules say "
            + "who has to be asked. A duct's colour never says what it holds.";

    private const string OfEnergised =
        "A reading on an energised circuit is for those who are competent to take it, with leads and a meter made for it.";

    private const string OfOtherService =
        "A duct for water or gas is not opened or entered without whoever runs that service.";

    private const string LocalCodes = "Local codes and a licensed person's word come before anything said here.";

    private readonly Dictionary<LineKey, Line> lines = [];
    private readonly List<string> open = [];
    private TakeAlongCautions cautions;
    private string alert = "";

    /// <summary>What is known of the things.</summary>
    public TakeAlongGround Ground => ground;

    /// <summary>What follows is for that alert.</summary>
    public void Begin(string alertId) => alert = alertId;

    /// <summary>Nothing can be said of something.</summary>
    public void Open(string says)
    {
        if (!open.Contains(says)) open.Add(says);
    }

    /// <summary>Something has to be minded.</summary>
    public void Mind(TakeAlongCautions what) => cautions |= what;

    /// <summary>Adds a tool: one is enough, whatever for.</summary>
    public void Tool(TakeAlongItem item, string name, string says) => Add(new(item, name, "") { Pieces = 1 }, says);

    /// <summary>Adds something.</summary>
    public void Add(TakeAlongNeed need, string says)
    {
        var key = new LineKey(need.Item, need.Name, need.ConductorsEach, need.BoreMillimetres, need.RatedWatts, need.Label);
        if (!lines.TryGetValue(key, out var line)) lines[key] = line = new Line();
        var before = line.Amounts.GetValueOrDefault(need.For);
        line.Amounts[need.For] = (Most(before.Pieces, need.Pieces), Most(before.LengthMetres, need.LengthMetres));
        if (need.Assumed is { } assumed && !line.Assumed.Contains(assumed)) line.Assumed.Add(assumed);
        var why = new TakeAlongReason(alert, says);
        if (!line.Why.Contains(why)) line.Why.Add(why);
    }

    /// <summary>The list as it is shown, in the order of the kinds of thing.</summary>
    public TakeAlongView ToView() => new()
    {
        Lines = [.. lines.OrderBy(pair => pair.Key.Item).ThenBy(pair => pair.Key.Name, StringComparer.Ordinal).Select(pair => View(pair.Key, pair.Value))],
        Cautions = [.. Cautions()],
        Open = open,
    };

    private IEnumerable<string> Cautions()
    {
        if (lines.Count == 0 && open.Count == 0) yield break;
        yield return Isolate;
        if (cautions.HasFlag(TakeAlongCautions.Mains)) yield return OfMains;
        if (cautions.HasFlag(TakeAlongCautions.Energised)) yield return OfEnergised;
        if (cautions.HasFlag(TakeAlongCautions.Digging)) yield return OfDigging;
        if (cautions.HasFlag(TakeAlongCautions.OtherService)) yield return OfOtherService;
        yield return LocalCodes;
    }

    private static TakeAlongLine View(LineKey key, Line line)
    {
        int? pieces = line.Amounts.Values.Any(each => each.Pieces is not null) ? line.Amounts.Values.Sum(each => each.Pieces ?? 0) : null;
        double? length = line.Amounts.Values.Any(each => each.LengthMetres is not null) ? line.Amounts.Values.Sum(each => each.LengthMetres ?? 0) : null;
        return new TakeAlongLine
        {
            Item = key.Item,
            What = What(key, pieces, length),
            Pieces = pieces,
            LengthMetres = length,
            ConductorsEach = key.ConductorsEach,
            BoreMillimetres = key.BoreMillimetres,
            RatedWatts = key.RatedWatts,
            Label = key.Label,
            Assumed = line.Assumed.Count == 0 ? null : $"{string.Join(" ", line.Assumed)} ({Rule.CommonPractice})",
            Why = line.Why,
        };
    }

    private static string What(LineKey key, int? pieces, double? length)
    {
        var label = key.Label is null ? "" : $" “{key.Label}”";
        if (length is { } metres) return $"{key.Name}{label}, {Words.Of(metres, "m")}";
        return pieces is { } number and > 1
            ? string.Create(CultureInfo.InvariantCulture, $"{number} × {key.Name}{label}")
            : key.Name + label;
    }

    private static int? Most(int? one, int? other) => one is null ? other : other is null ? one : Math.Max(one.Value, other.Value);

    private static double? Most(double? one, double? other) => one is null ? other : other is null ? one : Math.Max(one.Value, other.Value);

    private sealed record LineKey(TakeAlongItem Item, string Name, int? ConductorsEach, double? BoreMillimetres, double? RatedWatts, string? Label);

    private sealed class Line
    {
        public Dictionary<string, (int? Pieces, double? LengthMetres)> Amounts { get; } = new(StringComparer.Ordinal);

        public List<string> Assumed { get; } = [];

        public List<TakeAlongReason> Why { get; } = [];
    }
}
