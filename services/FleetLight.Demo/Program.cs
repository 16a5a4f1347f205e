using FleetLight.Demo;
using FleetLight.Demo.Sending;

using var stop = new CancellationTokenSource();
Console.CancelKeyPress += (_, pressed) =>
{
    pressed.Cancel = true;
    stop.Cancel();
};

try
{
    using var http = new HttpClient();
    await DemoRun.RunAsync(http, DemoOptions.Parse(args), Console.Out, TimeProvider.System, stop.Token);
    return 0;
}
catch (DemoFailure failed)
{
    await Console.Error.WriteLineAsync(failed.Message);
    return 1;
}
catch (Exception failed) when (failed is IOException or UnauthorizedAccessException)
{
    await Console.Error.WriteLineAsync($"The data folder cannot be used: {failed.Message}");
    return 1;
}
catch (OperationCanceledException) when (stop.IsCancellationRequested)
{
    await Console.Error.WriteLineAsync("Stopped. What was sent is kept; the next run sends the rest.");
    return 1;
}
