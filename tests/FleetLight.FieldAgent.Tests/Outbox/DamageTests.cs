using System.Text;
using FleetLight.FieldAgent.Outbox;
using FleetLight.FieldAgent.Tests.Agents;

namespace FleetLight.FieldAgent.Tests.Outbox;

public sealed class DamageTests : IDisposable
{
    private const int PageBytes = 4096;
    private readonly AgentFolder folder = new();

    public DamageTests()
    {
        folder.Become(new Uri("http://127.0.0.1:9/"), "k.s", "/devices/a");
        using var parts = folder.Open();
        for (var value = 0; value < 60; value++) Assert.Null(parts.Desk.Record("/devices/a", [Fact(value)]).Problem);
    }

    public static TheoryData<string> Ways =>
    [
        "emptied", "cut in the header", "cut in the middle", "cut by one page", "garbage header", "another program's file", "newer layout", "garbage all over",
        "page 2 zeroed", "page 5 zeroed", "last page zeroed", "a figure changed inside a fact", "gone",
    ];

    public void Dispose() => folder.Dispose();

    [Theory]
    [MemberData(nameof(Ways))]
    public async Task A_damaged_outbox_is_told_plainly_and_left_as_it_is(string way)
    {
        Damage(way);
        var before = Bytes();

        string[] record = ["record", "--type", "fleetlight.site.opened.v1", "--data", """{"siteId":"s1","name":"Garden"}"""];
        foreach (var command in (string[][])[["status"], record, ["run", "--port", "0"]])
        {
            var ran = await folder.RunAsync(command);

            Assert.Equal(ExitCodes.Damaged, ran.Code);
            Assert.Contains("is damaged", ran.Errors, StringComparison.Ordinal);
            Assert.Contains("Nothing was changed", ran.Errors, StringComparison.Ordinal);
            Assert.DoesNotContain("   at ", ran.Errors, StringComparison.Ordinal);
        }

        Assert.Equal(before, Bytes());
    }

    // Half of what a transaction wrote at its end: what was answered for before is there, and the outbox is whole.
    [Theory]
    [InlineData(1)]
    [InlineData(700)]
    [InlineData(4096)]
    [InlineData(9000)]
    public void A_log_that_was_cut_at_its_end_by_a_power_cut_is_no_damage(int bytes)
    {
        int before;
        using (var parts = folder.Open())
        {
            before = parts.Shelf.List(null, 0, 1000).Count;
            // As the mark stands until the writer of the next fact is answered.
            File.Copy(folder.Mark, folder.Mark + ".before");
            parts.Desk.Record("/devices/a", [Fact(1000)]);
            // As it stands on the disk while the agent runs.
            foreach (var name in (string[])["outbox.db", "outbox.db-wal"])
                File.Copy(Path.Combine(folder.Path, name), Path.Combine(folder.Path, "copy-" + name));
        }

        foreach (var name in (string[])["outbox.db", "outbox.db-wal"])
            File.Move(Path.Combine(folder.Path, "copy-" + name), Path.Combine(folder.Path, name), overwrite: true);
        using (var log = new FileStream(folder.Outbox + "-wal", FileMode.Open)) log.SetLength(log.Length - bytes);
        File.Move(folder.Mark + ".before", folder.Mark, overwrite: true);

        using var after = folder.Open();
        Assert.Equal(Enumerable.Range(1, before), after.Shelf.List(null, 0, 1000).Select(fact => fact.Number));
    }

    // SQLite itself would take the damage for the end of the log, and answer with the facts before it as if there had been no others.
    [Theory]
    [InlineData(0.1)]
    [InlineData(0.5)]
    [InlineData(0.95)]
    public async Task A_log_that_was_damaged_in_its_middle_is_told_and_left_as_it_is(double where)
    {
        const int more = 20;
        KillWithALog(more);
        var log = await File.ReadAllBytesAsync(folder.Outbox + "-wal", TestContext.Current.CancellationToken);
        Assert.True(log.Length > more * PageBytes);
        log[(int)(log.Length * where)] ^= 0x40;
        await File.WriteAllBytesAsync(folder.Outbox + "-wal", log, TestContext.Current.CancellationToken);

        var before = Bytes();
        foreach (var command in (string[][])[["status"], ["waiting"], ["run", "--port", "0"]])
        {
            var ran = await folder.RunAsync(command);
            Assert.Equal(ExitCodes.Damaged, ran.Code);
            Assert.Contains($"facts through number {60 + more} were recorded", ran.Errors, StringComparison.Ordinal);
            Assert.Contains("Nothing was changed", ran.Errors, StringComparison.Ordinal);
        }

        Assert.Equal(before, Bytes());
    }

    [Fact]
    public void A_log_that_is_whole_is_read_after_a_kill()
    {
        KillWithALog(20);
        using var parts = folder.Open();
        Assert.Equal(80, parts.Shelf.Count().Waiting);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(4096)]
    public void One_place_of_the_mark_that_was_half_written_does_no_harm(int at)
    {
        File.WriteAllBytes(folder.Mark, Changed(File.ReadAllBytes(folder.Mark), at, "77"u8.ToArray()));
        using (var parts = folder.Open()) Assert.Equal(61, parts.Desk.Record("/devices/a", [Fact(1000)]).Written.Single().Number);
        using var again = folder.Open();
        Assert.Equal(61, again.Shelf.Count().Waiting);
        Assert.Equal(61, new MarkFile(folder.Path, FleetLight.FieldAgent.Faults.FaultPoints.None).Read());
    }

    [Fact]
    public async Task A_mark_that_cannot_be_read_at_all_is_told()
    {
        await File.WriteAllBytesAsync(folder.Mark, new byte[2 * PageBytes], TestContext.Current.CancellationToken);
        var ran = await folder.RunAsync("status");
        Assert.Equal(ExitCodes.Damaged, ran.Code);
        Assert.Contains("outbox.mark", ran.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public void An_outbox_of_an_agent_that_kept_no_mark_gets_one_with_its_next_fact()
    {
        File.Delete(folder.Mark);
        using (var parts = folder.Open()) parts.Desk.Record("/devices/a", [Fact(1000)]);
        Assert.Equal(61, new MarkFile(folder.Path, FleetLight.FieldAgent.Faults.FaultPoints.None).Read());
        Assert.True(folder.IsPrivate("outbox.mark"));
    }

    [Fact]
    public async Task An_older_copy_of_the_outbox_alone_is_told_and_taken_once_the_mark_is_deleted()
    {
        var older = await File.ReadAllBytesAsync(folder.Outbox, TestContext.Current.CancellationToken);
        using (var parts = folder.Open()) parts.Desk.Record("/devices/a", [Fact(1000)]);
        await File.WriteAllBytesAsync(folder.Outbox, older, TestContext.Current.CancellationToken);

        var told = await folder.RunAsync("status");
        File.Delete(folder.Mark);

        Assert.Equal(ExitCodes.Damaged, told.Code);
        Assert.Contains("delete outbox.mark", told.Errors, StringComparison.Ordinal);
        Assert.Equal(ExitCodes.Done, (await folder.RunAsync("status")).Code);
    }

    [Fact]
    public async Task A_damaged_identity_is_told_plainly_and_the_facts_are_kept()
    {
        await File.WriteAllTextAsync(Path.Combine(folder.Path, "identity.json"), "{\"address\":", TestContext.Current.CancellationToken);
        var ran = await folder.RunAsync("status");
        Assert.Equal(ExitCodes.NotDone, ran.Code);
        Assert.Contains("enrol the device again; its facts are kept", ran.Errors, StringComparison.Ordinal);
        using var parts = folder.Open();
        Assert.Equal(60, parts.Shelf.Count().Waiting);
    }

    // Records more facts and leaves the folder as a killed agent does: with the log that holds them.
    private void KillWithALog(int more)
    {
        string[] names = ["outbox.db", "outbox.db-wal"];
        using (var parts = folder.Open())
        {
            for (var value = 0; value < more; value++) parts.Desk.Record("/devices/a", [Fact(1000 + value)]);
            foreach (var name in names) File.Copy(Path.Combine(folder.Path, name), Path.Combine(folder.Path, "killed." + name));
        }

        foreach (var name in names) File.Move(Path.Combine(folder.Path, "killed." + name), Path.Combine(folder.Path, name), overwrite: true);
    }

    private static NewFact Fact(int value) => new()
    {
        Type = "fleetlight.reading.taken.v1",
        Data = System.Text.Json.JsonSerializer.SerializeToElement(Readings.Of("k1", value), Contracts.Wire.WireJson.Strict),
    };

    private string Bytes() => string.Join(
        "\n", Directory.EnumerateFiles(folder.Path, "outbox.db*").Where(path => !path.EndsWith("-shm", StringComparison.Ordinal)).Order(StringComparer.Ordinal)
            .Where(path => !path.EndsWith("-wal", StringComparison.Ordinal) || new FileInfo(path).Length > 0)
            .Select(path => $"{Path.GetFileName(path)} {Convert.ToHexString(System.Security.Cryptography.SHA256.HashData(File.ReadAllBytes(path)))}"));

    private void Damage(string way)
    {
        if (way == "gone")
        {
            File.Delete(folder.Outbox);
            return;
        }

        var bytes = File.ReadAllBytes(folder.Outbox);
        Assert.True(bytes.Length > 8 * PageBytes);
        File.WriteAllBytes(folder.Outbox, way switch
        {
            "emptied" => [],
            "cut in the header" => bytes[..60],
            "cut in the middle" => bytes[..(bytes.Length / 2)],
            "cut by one page" => bytes[..^PageBytes],
            "garbage header" => Changed(bytes, 0, Encoding.ASCII.GetBytes("not what it was before")),
            "another program's file" => Changed(bytes, 68, [1, 2, 3, 4]),
            "newer layout" => Changed(bytes, 60, [0, 0, 0, 99]),
            "garbage all over" => Garbage(bytes),
            "page 2 zeroed" => Changed(bytes, PageBytes, new byte[PageBytes]),
            "page 5 zeroed" => Changed(bytes, 4 * PageBytes, new byte[PageBytes]),
            "last page zeroed" => Changed(bytes, bytes.Length - PageBytes, new byte[PageBytes]),
            _ => Changed(bytes, bytes.AsSpan().LastIndexOf("\"value\":"u8) + "\"value\":".Length, "7"u8.ToArray()),
        });
    }

    private static byte[] Changed(byte[] bytes, int at, byte[] by)
    {
        by.CopyTo(bytes, at);
        return bytes;
    }

    private static byte[] Garbage(byte[] bytes)
    {
        new Random(4).NextBytes(bytes.AsSpan(100));
        return bytes;
    }
}
