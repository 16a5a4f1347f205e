using System.CommandLine;
using FleetLight.Client;
using FleetLight.FieldAgent.Identity;

namespace FleetLight.FieldAgent.Commands;

/// <summary><c>enrol</c> and <c>new-key</c>.</summary>
internal static class EnrolCommands
{
    /// <summary>Makes them.</summary>
    public static IEnumerable<Command> Make() => [Enrol(), NewKey()];

    private static Command Enrol()
    {
        var code = new Argument<string>("code") { Description = "The code from the office, or all that its picture holds (ADDRESS/enrol#CODE)." };
        var service = new Option<string?>("--service") { Description = "Address of the service, where the code comes alone." };
        var name = new Option<string?>("--name") { Description = "What this device calls itself; the machine's name where absent." };
        var allowPlain = new Option<bool>("--allow-plain-http")
        {
            Description = "Use an http address of another machine, although whoever is on the way can read the code, the key and every fact.",
        };
        var enrol = new Command("enrol", "Give the office's one-time code for this device's key.") { code, service, name, allowPlain };
        enrol.Does(async (parsed, parts, output, cancel) =>
        {
            if (Enrolling.Read(parsed.GetRequiredValue(code), parsed.GetValue(service)) is not { } given)
                return output.Fail(ExitCodes.NotUnderstood, "The address is no http or https address, or the code is empty.");
            var address = given.Address ?? parts.Identities.Find()?.Address;
            if (address is null) return output.Fail(ExitCodes.NotUnderstood, "Say with --service where the service is.");
            if (!Enrolling.IsGuarded(address) && !parsed.GetValue(allowPlain)) return output.Fail(ExitCodes.NotDone, PlainHttp(address));
            var enrolling = new Enrolling(parts.Options, parts.Identities, parts.Outbox, parts.Outgoing, parts.Clock, parts.Faults);
            var result = await enrolling.RunAsync(address, given.Code, parsed.GetValue(name) ?? Environment.MachineName, cancel);
            return result.Identity is { } identity
                ? output.Say(new { identity.Source, service = identity.Address, identity.Organisation, identity.KeyId }, _ =>
                    [$"This device is {identity.Source} of {identity.Organisation ?? "its organisation"} at {identity.Address}.", "Its facts are sent while the agent runs (run)."])
                : output.Fail(ExitCodes.NotReached, result.Failure!);
        });
        return enrol;
    }

    private static string PlainHttp(Uri address) =>
        $"{address} is plain http to another machine: whoever is on the way there can read the code, this device's key and every fact, and change them. "
        + "The code was not used. Use the service's https address (--service); where nobody else can be on that way, add --allow-plain-http.";

    private static Command NewKey()
    {
        var command = new Command("new-key", "Get another key for this device now; the old one ends.");
        command.Does(async (_, parts, output, cancel) =>
        {
            if (parts.Identities.Find() is not { } identity) return output.Fail(ExitCodes.NotEnrolled, Problems.NotEnrolled());
            using var client = Clients.For(parts.Options, parts.Identities, identity, parts.Clock);
            try
            {
                var renewed = await Clients.RenewAsync(client, parts.Identities, identity, parts.Clock, cancel);
                return output.Say(new { renewed.KeyId }, _ => [$"The device has the key {renewed.KeyId} now."]);
            }
            catch (FleetLightException failed)
            {
                return output.Fail(ExitCodes.NotReached, failed.Message);
            }
        });
        return command;
    }
}
