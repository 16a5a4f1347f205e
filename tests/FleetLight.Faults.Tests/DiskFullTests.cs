using System.Diagnostics;
using FleetLight.Faults.Tests.Load;
using FleetLight.Faults.Tests.Nodes;
using FleetLight.Testing.Service;

namespace FleetLight.Faults.Tests;

/// <summary>The disk of the database is full.</summary>
public sealed class DiskFullTests
{
    [Fact]
    public async Task With_a_full_disk_devices_are_told_to_come_back_and_nothing_is_lost()
    {
        string folder = Directory.CreateTempSubdirectory("fleetlight-faults-disk-").FullName;
        try
        {
            await Commands.RunAsync("mount", "-t", "tmpfs", "-o", "size=320m,mode=0711", "tmpfs", folder);
        }
        catch (Exception refused) when (refused is InvalidOperationException or System.ComponentModel.Win32Exception)
        {
            Directory.Delete(folder);
            Assert.Skip($"No small file system can be mounted here: {refused.Message.Trim()}");
        }

        try
        {
            await using PostgresNode postgres = await PostgresNode.StartAsync(Path.Combine(folder, "pg"));
            await RunAsync(postgres, Path.Combine(folder, "filler"));
        }
        finally
        {
            await Commands.RunAsync("umount", folder);
            Directory.Delete(folder);
        }
    }

    private static async Task RunAsync(PostgresNode postgres, string filler)
    {
        string database = await postgres.NewDatabaseAsync();
        await using ServiceNode node = await ServiceNode.StartAsync(database);
        using FleetLoad load = await FleetLoad.CreateAsync(node.Host, "crews", 4, 5, TimeSpan.FromSeconds(20), node.Url);
        load.Begin();
        await load.TakenAsync(2);

        await Fill(filler);
        await Eventually.IsSoAsync(() => load.Devices.All(device => device.SentAway > 1), "every device to be told to come back");
        TestContext.Current.TestOutputHelper!.WriteLine(postgres.Runs ? "The server ran on." : "The server gave up, as it does when its log cannot grow.");
        File.Delete(filler);
        // Where its log could not grow the server ended itself; whoever looks after it starts it once there is room.
        if (!postgres.Runs) await postgres.StartAsync();
        long began = Stopwatch.GetTimestamp();
        await load.TakenAsync(2);
        TestContext.Current.TestOutputHelper!.WriteLine($"back after {Stopwatch.GetElapsedTime(began).TotalSeconds:0.0} s");
        await load.FinishAsync();
        FaultTable.Add("disk of the database full", 1, await Account.CloseAsync(load, node, database));
        await States.SameAsUndisturbedAsync(load, postgres);
    }

    // To the last byte, in pieces, as a log file that runs away does.
    private static async Task Fill(string path)
    {
        byte[] piece = new byte[1 << 20];
        await using FileStream file = new(path, FileMode.Create, FileAccess.Write, FileShare.None, 0);
        while (piece.Length > 0)
        {
            try
            {
                while (true) await file.WriteAsync(piece);
            }
            catch (IOException)
            {
                piece = piece[..(piece.Length / 2)];
            }
        }
    }
}
