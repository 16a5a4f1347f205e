using System.ComponentModel;
using System.Diagnostics;

namespace FleetLight.Electrics.Tests.Spice;

/// <summary>
/// The circuit simulator ngspice (Debian package <c>ngspice</c>) in batch mode: one process a deck, so that no circuit
/// starts where another one ended.
/// </summary>
internal static class Ngspice
{
    private const string Program = "ngspice";
    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(20);
    private static readonly Lazy<string?> Version = new(FindVersion);

    /// <summary>Skips the running test where there is no ngspice; in CI (<c>CI=true</c>) that is a failure.</summary>
    public static void Need()
    {
        if (Version.Value is not null) return;
        const string reason = "There is no ngspice on the PATH. Debian's package 'ngspice' has it.";
        if (Environment.GetEnvironmentVariable("CI") == "true") Assert.Fail(reason);
        Assert.Skip(reason);
    }

    /// <summary>What the program says of its version, for the protocol of a run.</summary>
    public static string VersionText => Version.Value ?? "none";

    /// <summary>The direct-current operating point of a deck; null where the simulator finds none.</summary>
    public static OperatingPoint? Solve(string deck)
    {
        var folder = Directory.CreateTempSubdirectory("fleetlight-ngspice-");
        try
        {
            var (source, raw) = (Path.Combine(folder.FullName, "deck.cir"), Path.Combine(folder.FullName, "deck.raw"));
            File.WriteAllText(source, deck);
            var (code, said) = Run(folder.FullName, ["-n", "-b", "-r", raw, source]);
            // Wrong lines and resistors without a value are passed over with a word on the error stream only.
            if (code == 0 && !said.Contains("Error", StringComparison.OrdinalIgnoreCase) && !Defaulted(said))
            {
                var isDirect = !said.Contains("stepping", StringComparison.Ordinal);
                return OperatingPoint.Parse(File.ReadAllText(raw), isDirect);
            }

            if (code != 0 && said.Contains("DC solution failed", StringComparison.Ordinal)) return null;
            throw new InvalidOperationException($"ngspice ended with {code} and said:\n{said}\nThe deck was:\n{deck}");
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static bool Defaulted(string said) => said.Contains("set to 1", StringComparison.OrdinalIgnoreCase);

    private static string? FindVersion()
    {
        try
        {
            var (code, said) = Run(Path.GetTempPath(), ["--version"]);
            return code == 0 ? said.Split('\n').FirstOrDefault(line => line.Contains("ngspice-")) ?? said : null;
        }
        catch (Win32Exception)
        {
            return null;
        }
    }

    private static (int Code, string Said) Run(string home, string[] arguments)
    {
        var start = new ProcessStartInfo(Program, arguments)
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        // A raw file as text holds every digit. Without a home folder the program dies.
        start.Environment["SPICE_ASCIIRAWFILE"] = "1";
        start.Environment["HOME"] = home;
        start.Environment["LC_ALL"] = "C";
        using var process = Process.Start(start)!;
        process.StandardInput.Close();
        var said = process.StandardOutput.ReadToEndAsync();
        var complained = process.StandardError.ReadToEndAsync();
        if (!process.WaitForExit(Longest))
        {
            process.Kill(entireProcessTree: true);
            throw new TimeoutException($"ngspice took longer than {Longest}.");
        }

        return (process.ExitCode, said.GetAwaiter().GetResult() + complained.GetAwaiter().GetResult());
    }
}
