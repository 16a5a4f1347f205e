using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Demo.Planning;
using FleetLight.Demo.Sending;
using FleetLight.Demo.Works;

namespace FleetLight.Demo.Reporting;

/// <summary>Prints what was planted and what FleetLight found of it, as the service answers it: a miss is a miss.</summary>
internal sealed class Report(TextWriter output, Fleet fleet, Answers answers, LoadRecord record, KeyRing keys)
{
    /// <summary>Writes it.</summary>
    public void Write()
    {
        output.WriteLine();
        output.WriteLine($"{Crews.Contractor}, {Crews.Town}: contractor, town, people and figures are all invented.");
        output.WriteLine($"Seed {fleet.Seed}, dates counted from {fleet.Anchor:yyyy-MM-dd}, organisation {keys.Organisation}.");
        output.WriteLine(Size());
        if (!answers.CaughtUp)
            output.WriteLine("The service had not caught up after 60 s: what follows is what it said by then.");
        output.WriteLine();
        WritePlants();
        WriteVerdicts();
        WriteOtherAlerts();
        WriteDevices();
        WriteWhereToLook();
    }

    private string Size()
    {
        var circuits = fleet.Circuits.ToArray();
        var current = circuits.Count(circuit => circuit.Design.Drive == DriveKind.ConstantCurrent);
        var facts = fleet.Logs.Sum(log => log.Events.Count);
        return $"{fleet.Sites.Count} sites, {circuits.Length} circuits ({current} constant current, {circuits.Length - current} constant voltage), "
            + $"{facts:n0} facts from {fleet.Logs.Count} devices.";
    }

    private void WritePlants()
    {
        var table = new Table(("Planted", 38), ("Found", 5), ("What FleetLight says", 62));
        var found = 0;
        foreach (var plant in fleet.Plants)
        {
            var looked = Finds.Of(plant, answers);
            if (looked.Found) found++;
            table.Add($"{plant.Where}:\n{plant.What}", looked.Found ? "yes" : "NO", looked.Says);
            table.Add("", "", "");
        }

        table.Write(output);
        output.WriteLine($"{found} of {fleet.Plants.Count} planted things found.");
        output.WriteLine();
    }

    private void WriteVerdicts()
    {
        var faulty = fleet.Plants.Where(plant => plant.Verdict == CircuitVerdict.Outside).Select(plant => plant.CircuitId).ToHashSet();
        var sound = fleet.Circuits.Where(circuit => !faulty.Contains(circuit.Id))
            .Select(circuit => answers.Circuits.GetValueOrDefault(circuit.Id)?.Verdict ?? CircuitVerdict.Unread).ToArray();
        var counts = Enum.GetValues<CircuitVerdict>().Select(verdict => (verdict, Count: sound.Count(each => each == verdict)))
            .Where(pair => pair.Count > 0 || pair.verdict is CircuitVerdict.Within or CircuitVerdict.Doubtful or CircuitVerdict.Outside);
        output.WriteLine($"The {sound.Length} circuits without an electrical fault read: "
            + string.Join(", ", counts.Select(pair => $"{pair.Count} {Finds.Word(pair.verdict)}")) + ".");
    }

    private void WriteOtherAlerts()
    {
        var subjects = fleet.Plants.Select(plant => plant.Subject).ToHashSet();
        var others = answers.Alerts.Where(alert => !subjects.Contains(alert.Finding.Subject)).ToArray();
        output.WriteLine($"{answers.Alerts.Count} alerts stand, {others.Length} of them on things where nothing was planted{(others.Length > 0 ? ":" : ".")}");
        foreach (var group in others.GroupBy(alert => alert.Finding.Rule).OrderByDescending(group => group.Count()))
        {
            var first = group.First().Finding;
            output.WriteLine($"  {group.Count()} × {group.Key}, for instance on {Finds.Word(first.Subject.Kind)} {first.Subject.Id}: {first.Reason}");
        }

        output.WriteLine();
    }

    private void WriteDevices()
    {
        var table = new Table(
            ("Device", 17), ("Clock found", 13), ("Facts", 6), ("Sent", 6), ("Recorded", 8), ("Known already", 13), ("Refused", 7), ("Complete through", 16), ("Missing", 12));
        foreach (var log in fleet.Logs)
        {
            var count = record.Devices.GetValueOrDefault(log.Device.Name, new DeviceCount());
            var receipt = answers.Receipts[log.Device];
            table.Add(
                log.Device.Name, ClockOf(count), $"{log.Events.Count}", $"{count.Sent}", $"{count.Recorded}", $"{count.Duplicates}", $"{count.Refused}",
                $"{receipt.CompleteThrough}",
                receipt.Missing.Count == 0 ? "none" : string.Join(
                    ", ", receipt.Missing.Select(range => range.From == range.Through ? $"{range.From}" : $"{range.From}–{range.Through}")));
        }

        table.Write(output);
        foreach (var refused in answers.Refused)
            output.WriteLine($"Refused, waiting to be mended: {refused.FactId} of {refused.Source}: {refused.Problem.Field}: {refused.Problem.Detail}");
        output.WriteLine();
    }

    private void WriteWhereToLook()
    {
        output.WriteLine($"Open the office page: {keys.Url}#key={keys[KeyRing.Office]}");
        output.WriteLine("or ask the API, whose paths are listed at /docs:");
        output.WriteLine($"  curl -H 'Authorization: Bearer {keys[KeyRing.Dashboard]}' {keys.Url}v1/circuits/{fleet.Plants[0].CircuitId}");
        output.WriteLine($"Dashboard key (reads status): {keys[KeyRing.Dashboard]}");
        output.WriteLine($"Office key (everything):      {keys[KeyRing.Office]}");
        output.WriteLine($"These and the keys of the devices are in {KeyRing.FileName} of the data folder.");
    }

    private static string ClockOf(DeviceCount count)
    {
        if (count.ClockErrorSeconds is not { } seconds) return "-";
        var error = TimeSpan.FromMinutes(Math.Round(Math.Abs(seconds) / 60));
        return error < TimeSpan.FromMinutes(2) ? "right" : $"{error.Days} d {error.Hours} h {(seconds > 0 ? "ahead" : "behind")}";
    }
}
