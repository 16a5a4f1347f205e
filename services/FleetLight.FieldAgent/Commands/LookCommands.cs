using System.CommandLine;
using System.Text.Json;
using FleetLight.Contracts.Views;
using FleetLight.FieldAgent.Identity;
using FleetLight.FieldAgent.Local;
using FleetLight.FieldAgent.Outbox;
using FleetLight.FieldAgent.Sending;

namespace FleetLight.FieldAgent.Commands;

/// <summary><c>waiting</c>, <c>refused</c>, <c>show</c>, <c>send</c>, <c>circuits</c> and <c>status</c>.</summary>
internal static class LookCommands
{
    private const int MostFailures = 5;

    /// <summary>Makes them.</summary>
    public static IEnumerable<Command> Make() => [Waiting(), Refused(), Show(), Send(), Circuits(), Status()];

    private static Command Waiting()
    {
        var command = new Command("waiting", "List the facts that the service has not answered for yet.");
        command.Does((_, parts, output, _) =>
        {
            IReadOnlyList<KeptFact> facts = [.. parts.Shelf.List(FactState.Waiting, 0, int.MaxValue), .. parts.Shelf.List(FactState.Held, 0, int.MaxValue)];
            return Task.FromResult(output.Say(new { facts }, _ => facts.Count == 0 ? ["Nothing waits."] : facts.Select(Line)));
        });
        return command;
    }

    private static Command Refused()
    {
        var command = new Command("refused", "List the facts that the service has set aside, and why. Mend them (mend), or leave them to the office.");
        command.Does((_, parts, output, _) =>
        {
            var facts = parts.Shelf.List(FactState.Refused, 0, int.MaxValue);
            return Task.FromResult(output.Say(new { facts }, _ => facts.Count == 0
                ? ["Nothing was refused."]
                : facts.SelectMany(fact => new[] { Line(fact), $"      {(fact.Problem is { } problem ? Out.Told(problem) : "No reason was given.")}" })));
        });
        return command;
    }

    private static Command Show()
    {
        var number = new Argument<int>("number") { Description = "Number of the fact." };
        var command = new Command("show", "Show one fact as it is sent, and what became of it.") { number };
        command.Does((parsed, parts, output, _) => Task.FromResult(parts.Shelf.Find(parsed.GetValue(number)) is { } fact
            ? output.Say(fact, _ => [Line(fact), .. fact.Problem is { } problem ? new[] { $"      {Out.Told(problem)}" } : [], $"      {fact.Event}"])
            : output.Fail(ExitCodes.NotDone, $"There is no fact with the number {parsed.GetValue(number)} here.")));
        return command;
    }

    private static Command Send()
    {
        var command = new Command("send", "Send what waits now. Where the agent runs, it does so by itself.");
        command.Does(async (_, parts, output, cancel) =>
        {
            if (parts.Identities.Find() is not { } identity) return output.Fail(ExitCodes.NotEnrolled, Problems.NotEnrolled());
            using var alone = SenderLock.TryTake(parts.Options.Folder);
            if (alone is null) return output.Fail(ExitCodes.NotDone, "A sender runs already: it sends what waits.");
            using var client = Clients.For(parts.Options, parts.Identities, identity, parts.Clock);
            var sender = new Sender(client.Device, identity.Source, parts.Outgoing, parts.Options, parts.Clock, parts.Faults);
            for (var failures = 0; ;)
            {
                var step = await sender.StepAsync(cancel);
                if (step.Kind == StepKind.Idle) break;
                if (step.Kind == StepKind.Sent) continue;
                if (step.Kind == StepKind.NotTaken || ++failures == MostFailures) return output.Fail(ExitCodes.NotReached, step.Why!);
                await Task.Delay(Pauses.After(failures, step.Asked, parts.Options.LongestPause, Random.Shared.NextDouble()), parts.Clock, cancel);
            }

            return output.Say(AgentStatus.Of(parts), StatusLines);
        });
        return command;
    }

    private static Command Circuits()
    {
        var site = new Option<string?>("--site") { Description = "Only those of that site." };
        var command = new Command("circuits", "List the circuits of this device's sites and what is open on them, as last told by the service.") { site };
        command.Does((parsed, parts, output, _) =>
        {
            var circuits = parts.Sites.List("circuit", parsed.GetValue(site)).Select(thing => OpenCircuit.Of(thing.As<CircuitView>(), thing.FetchedAt)).ToArray();
            return Task.FromResult(output.Say(new { circuits }, _ => circuits.Length == 0
                ? ["No circuit is known here. Only those of the sites that the device is assigned are."]
                : circuits.SelectMany(circuit => new[] { $"{circuit.Id}  {circuit.Name}  {Word(circuit.Phase)}, {Word(circuit.Verdict)}" }
                    .Concat(circuit.Missing.Select(missing => $"      {missing}")))));
        });
        return command;
    }

    private static Command Status()
    {
        var command = new Command("status", "Say how the agent stands.");
        command.Does((_, parts, output, _) => Task.FromResult(output.Say(AgentStatus.Of(parts), StatusLines)));
        return command;
    }

    private static IEnumerable<string> StatusLines(AgentStatus status)
    {
        yield return status.Source is null ? "Not enrolled: ask the office for a code (enrol)." : $"Device      {status.Source} at {status.Service}";
        yield return $"Folder      {status.Folder}";
        yield return $"Sender      {(status.Sending ? "runs" : "does not run (run)")}";
        yield return $"Waiting     {status.Facts.Waiting}{(status.Facts.Held > 0 ? $", and {status.Facts.Held} held back" : "")}";
        yield return $"Refused     {status.Facts.Refused}{(status.Facts.Refused > 0 ? " (refused says why)" : "")}";
        yield return status.Receipt is { } receipt
            ? $"In hand     complete through {receipt.CompleteThrough} of {status.LastNumber}{(receipt.Missing.Count > 0 ? $", {receipt.Missing.Count} gaps above" : "")}"
            : $"In hand     the service was not asked yet; numbers were given through {status.LastNumber}";
        if (status.HeardAt is { } heard) yield return $"Heard       {heard.ToLocalTime():yyyy-MM-dd HH:mm:ss}";
        if (status.Sites.Count > 0) yield return $"Sites       {string.Join(", ", status.Sites)}, as of {status.ReceivedAt?.ToLocalTime():yyyy-MM-dd HH:mm:ss}";
        if (status.Trouble is { } trouble) yield return $"In the way  {trouble}";
        if (status.Remark is { } remark) yield return $"Mind        {remark}";
    }

    private static string Line(KeptFact fact) =>
        $"{fact.Number,5} {fact.Time:yyyy-MM-dd HH:mm:ss}  {fact.Type}{(fact.Site is { } site ? $"  site {site}" : "")}{(fact.Mends is { } mends ? $"  mends {mends}" : "")}";

    private static string Word<T>(T value) where T : struct, Enum => JsonNamingPolicy.KebabCaseLower.ConvertName(value.ToString());
}
