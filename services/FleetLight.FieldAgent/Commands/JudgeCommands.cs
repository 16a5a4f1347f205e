using System.CommandLine;
using System.Globalization;
using System.Text.Json;
using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.FieldAgent.Receiving;

namespace FleetLight.FieldAgent.Commands;

/// <summary><c>expected</c> and <c>judge</c>: what the service would say, also without a connection.</summary>
internal static class JudgeCommands
{
    private const string Advice = "Advice, never a certificate. Local codes and a licensed person's word come first.";
    private static readonly Argument<string> Circuit = new("circuit") { Description = "The circuit." };

    /// <summary>Makes them.</summary>
    public static IEnumerable<Command> Make() => [Expected(), Judge()];

    private static Command Expected()
    {
        var command = new Command("expected", "Say what a circuit of this device's sites should read, without a connection too.") { Circuit };
        command.Does((parsed, parts, output, _) =>
        {
            var offline = OfflineJudge.Expect(parts.Sites, parsed.GetRequiredValue(Circuit));
            return Task.FromResult(offline.Problem is { } problem ? output.Fail(ExitCodes.NotDone, problem) : output.Say(offline, Lines));
        });
        return command;
    }

    private static Command Judge()
    {
        var place = new Option<string>("--place") { Description = "driver, a fitting or a box; driver where absent.", DefaultValueFactory = _ => "driver" };
        var quantity = new Option<string>("--quantity") { Description = "volts-dc, milliamps, loop-ohms or megohms-insulation.", DefaultValueFactory = _ => "volts-dc" };
        var value = new Option<double>("--value") { Description = "The number on the meter, in V, mA, Ω or MΩ as the quantity says.", Required = true };
        var command = new Command("judge", "Judge a reading before it is recorded, without a connection too.") { Circuit, place, quantity, value };
        command.Does((parsed, parts, output, _) =>
        {
            var word = parsed.GetRequiredValue(quantity);
            MeasuredAs? measured = null;
            foreach (var each in Enum.GetValues<MeasuredAs>())
            {
                if (JsonNamingPolicy.KebabCaseLower.ConvertName(each.ToString()) == word) measured = each;
            }

            if (measured is not { } known) return Task.FromResult(output.Fail(ExitCodes.NotUnderstood, $"'{word}' is no quantity: {quantity.Description}"));
            var offline = OfflineJudge.Judge(
                parts.Sites, parsed.GetRequiredValue(Circuit),
                new ReadingInput { Place = parsed.GetRequiredValue(place), Quantity = known, Value = parsed.GetValue(value) });
            return Task.FromResult(offline.Problem is { } problem ? output.Fail(ExitCodes.NotDone, problem) : output.Say(offline, Lines));
        });
        return command;
    }

    private static IEnumerable<string> Lines(Offline<VerdictAnswer> offline)
    {
        if (offline.Answer!.NoAnswer is { } none) yield return none.Text;
        foreach (var verdict in offline.Answer.Verdicts)
        {
            yield return $"{JsonNamingPolicy.KebabCaseLower.ConvertName(verdict.Verdict.ToString())}: {verdict.Text}";
        }

        foreach (var line in Ending(offline.AsOf, offline.Mind)) yield return line;
    }

    private static IEnumerable<string> Lines(Offline<ExpectedAnswer> offline)
    {
        if (offline.Answer!.NoAnswer is { } none) yield return none.Text;
        if (offline.Answer.Expected is { } expected)
        {
            yield return $"driver  {Figure(expected.DriverVoltsDc)} V DC";
            yield return $"driver  {Figure(expected.DriverMilliamps)} mA";
        }

        foreach (var line in Ending(offline.AsOf, offline.Mind)) yield return line;
    }

    private static string Figure(EstimatedValue figure) =>
        string.Create(CultureInfo.InvariantCulture, $"{figure.Value:0.###} ({figure.Low:0.###} to {figure.High:0.###})");

    private static IEnumerable<string> Ending(DateTimeOffset? asOf, string? mind)
    {
        yield return $"By the circuit as the service told it on {asOf?.ToLocalTime():yyyy-MM-dd HH:mm}. {Advice}";
        if (mind is not null) yield return mind;
    }
}
