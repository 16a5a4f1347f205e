using FleetLight.Benchmarks;
using FleetLight.Benchmarks.Diagnosing;
using FleetLight.Benchmarks.Electrics;
using FleetLight.Benchmarks.LargeFleet;
using FleetLight.Benchmarks.Pages;

if (args is ["serve", .. var rest])
{
    await Server.ServeAsync(rest);
    return 0;
}

string[] wanted = args.Length > 0 ? args : ["append", "lag", "reads", "growth", "rebuild", "ledger", "electrics", "diagnosis", "pages"];
var server = Environment.GetEnvironmentVariable("FLEETLIGHT_BENCH_POSTGRES") ?? "";
if (server.Length == 0 && !wanted.All(word => word is "electrics" or "diagnosis"))
{
    Console.Error.WriteLine("Start it with tests/bench, which brings a PostgreSQL server along.");
    return 2;
}

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
        "ledger" => Ledgers.RunAsync(server, report),
        "fleet" => LargeFleetBenchmark.RunAsync(server, report),
        "soak" => Soaking.RunAsync(server, report),
        "pages" => PagesBenchmark.RunAsync(server, report),
        "diagnosis" => Task.Run(() => DiagnosisBenchmark.Run(report)),
        "electrics" => Task.Run(() => Speed.Run(report)),
        _ => throw new ArgumentException($"There is no measurement '{each}'."),
    });
}

report.Print();
return 0;
