using System.CommandLine;
using FleetLight.FieldAgent.Local;

namespace FleetLight.FieldAgent.Commands;

/// <summary><c>run</c>: the agent itself.</summary>
internal static class RunCommand
{
    /// <summary>Makes it.</summary>
    public static Command Make()
    {
        var port = new Option<int?>("--port") { Description = $"Port on the loopback address; {FieldOptions.UsualPort} where absent, 0 for any that is free." };
        var run = new Command("run", "Send what waits, bring the sites up to date, and take facts from programs on this machine, until ended.") { port };
        run.Does((_, parts, _, cancel) => AgentHost.RunAsync(parts, cancel), port);
        return run;
    }
}
