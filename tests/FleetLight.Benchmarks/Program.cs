using FleetLight.Benchmarks;

if (args is ["serve", .. var rest])
{
    await Server.ServeAsync(rest);
    return 0;
}

if (Environment.GetEnvironmentVariable("FLEETLIGHT_BENCH_POSTGRES") is not { Length: > 0 } server)
{
    Console.Error.WriteLine("Start it with tests/bench, which brings a PostgreSQL server along.");
    return 2;
}

string[] wanted = args.Length > 0 ? args : ["append", "lag", "reads", "growth", "rebuild"];
var report = new Report();
foreach (var each in wanted)
{
    await (each switch
    {
        "append" => Appending.RunAsync(server, report),
        "lag" => Lag.RunAsync(server, report),
        "reads" => Reading.RunAsync(server, report),
        "growth" => Growth.RunAsync(server, report),
        "rebuild" => Rebuilding.RunAsync(server, report),
        _ => throw new ArgumentException($"There is no measurement '{each}'."),
    });
}

report.Print();
return 0;
