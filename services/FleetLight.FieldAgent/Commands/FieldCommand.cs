using System.CommandLine;
using FleetLight.FieldAgent.Outbox;

namespace FleetLight.FieldAgent.Commands;

/// <summary>The command line.</summary>
internal static class FieldCommand
{
    private static readonly Option<string?> Folder = new("--folder")
    {
        Description = "Folder of the outbox, the key and the token.",
        Recursive = true,
    };

    private static readonly Option<bool> Json = new("--json") { Description = "Write JSON.", Recursive = true };

    /// <summary>Runs what the arguments say; answers the exit code.</summary>
    public static async Task<int> RunAsync(string[] arguments)
    {
        var root = new RootCommand(
            "Records facts of outdoor-lighting work on this machine and sends them to FleetLight whenever it can be reached. "
            + "What it answered for is on disk.");
        root.Options.Add(Folder);
        root.Options.Add(Json);
        foreach (var command in (IEnumerable<Command>)
                 [RunCommand.Make(), .. EnrolCommands.Make(), .. FactCommands.Make(), .. LookCommands.Make(), .. JudgeCommands.Make(), HandoverCommand.Make()])
            root.Subcommands.Add(command);
        var parsed = root.Parse(arguments);
        if (parsed.Errors.Count > 0)
        {
            foreach (var error in parsed.Errors) await Console.Error.WriteLineAsync(error.Message);
            await Console.Error.WriteLineAsync("--help lists the commands.");
            return ExitCodes.NotUnderstood;
        }

        return await parsed.InvokeAsync();
    }

    /// <summary>Has a command do its work on the folder that its arguments name.</summary>
    public static void Does(this Command command, Func<ParseResult, AgentParts, Out, CancellationToken, Task<int>> work, Option<int?>? port = null) =>
        command.SetAction(async (parsed, cancel) =>
        {
            var output = new Out(parsed.GetValue(Json), Console.Out, Console.Error);
            try
            {
                using var parts = AgentParts.Open(FieldOptions.Of(
                    parsed.GetValue(Folder), port is null ? null : parsed.GetValue(port), Environment.GetEnvironmentVariable));
                return await work(parsed, parts, output, cancel);
            }
            catch (OutboxDamagedException damaged)
            {
                return output.Fail(ExitCodes.Damaged, damaged.Message);
            }
            catch (OutboxBlockedException blocked)
            {
                return output.Fail(ExitCodes.Blocked, blocked.Message);
            }
            catch (Exception failed) when (failed is IOException or UnauthorizedAccessException or InvalidOperationException or ArgumentException)
            {
                return output.Fail(ExitCodes.NotDone, failed.Message);
            }
        });
}
