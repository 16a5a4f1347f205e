using System.ComponentModel;
using System.Diagnostics;
using Xunit;

namespace FleetLight.OpenData.Tests.Gis;

/// <summary>The programs of GDAL (Debian package <c>gdal-bin</c>), which know nothing of FleetLight.</summary>
internal static class Gdal
{
    private static readonly Lazy<bool> IsHere = new(() =>
    {
        try
        {
            return Run("ogrinfo", null, null, "--version").Code == 0;
        }
        catch (Win32Exception)
        {
            return false;
        }
    });

    /// <summary>Skips the running test where there is no GDAL; in CI (<c>CI=true</c>) that is a failure.</summary>
    public static void Need()
    {
        if (IsHere.Value) return;
        const string reason = "There is no ogrinfo on the PATH. Debian's package 'gdal-bin' has it.";
        if (Environment.GetEnvironmentVariable("CI") == "true") Assert.Fail(reason);
        Assert.Skip(reason);
    }

    /// <summary>Runs a program, which has to end well; answers what it printed.</summary>
    public static string Say(string program, string? key, string? input, params string[] arguments)
    {
        (int code, string said, string errors) = Run(program, key, input, arguments);
        Assert.True(code == 0, $"{program} {string.Join(' ', arguments)} ended with {code}: {errors}{said}");
        return said;
    }

    private static (int Code, string Said, string Errors) Run(string program, string? key, string? input, params string[] arguments)
    {
        ProcessStartInfo start = new(program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true, RedirectStandardInput = true };
        if (key is not null) start.Environment["GDAL_HTTP_HEADERS"] = $"Authorization: Bearer {key}";
        using Process process = Process.Start(start)!;
        Task<string> errors = process.StandardError.ReadToEndAsync();
        Task<string> said = process.StandardOutput.ReadToEndAsync();
        if (input is not null) process.StandardInput.Write(input);
        process.StandardInput.Close();
        if (!process.WaitForExit(TimeSpan.FromSeconds(60)))
        {
            process.Kill();
            throw new TimeoutException($"{program} {string.Join(' ', arguments)} did not end.");
        }

        return (process.ExitCode, said.Result, errors.Result);
    }
}
