using FleetLight.Contracts.Wire;
using FleetLight.Testing.Service;

namespace FleetLight.Service.Tests.Intake;

/// <summary>Numbers that no fact can hold.</summary>
internal static class BadNumbers
{
    public static IReadOnlyList<BadFact> All { get; } =
    [
        Value("a reading of NaN", "NaN"),
        Value("a reading of Infinity", "Infinity"),
        Value("a reading of minus Infinity", "-Infinity"),
        Value("a reading of NaN in quotes", "\"NaN\""),
        Value("a reading of 1e400", "1e400"),
        Value("a reading of minus 1e400", "-1e400"),
        Value("a reading of 1e300", "1e300"),
        Value("a reading beyond its range", "1000000.5"),
        Value("a reading in quotes", "\"9.3\""),
        Value("a reading with a decimal comma", "9,3"),
        Value("a reading in hexadecimal", "0x10"),
        Value("a reading with a leading plus", "+9.3"),
        Value("a reading of true", "true"),
        Value("a reading of null", "null"),
        new("a length of zero", device => device.Record(Some.DuctLaid(length: 0))),
        new("a negative length", device => device.Record(Some.DuctLaid(length: -3))),
        new("a fraction where a whole number is asked for", device => device.Record(Some.CircuitDesigned())
            .ChangeData(data => data["runs"]![0]!["conductorsInLoop"] = 1.5)),
        new("three conductors in a loop", device => device.Record(Some.CircuitDesigned())
            .ChangeData(data => data["runs"]![0]!["conductorsInLoop"] = 3)),
        Running("a running number of zero", "0"),
        Running("a negative running number", "-1"),
        Running("a running number with a fraction", "1.5"),
        Running("a running number beyond the greatest", "2147483648"),
        Running("a running number of 1e400", "1e400"),
        Running("a running number of NaN", "NaN"),
        Running("a running number in quotes", "\"5\""),
        Running("a running number of null", "null"),
        new("no running number", device => device.Record(Some.BoxSealed()).Change(envelope => envelope.Remove(Envelope.RunningNumber))),
        new("a longitude of 181", device => device.Record(Some.SiteOpened())
            .ChangeData(data => data["position"]!["coordinates"]![0] = 181)),
        new("a latitude of 1e400", device => device.Record(Some.SiteOpened()).Replace("51.5", "1e400")),
    ];

    private static BadFact Value(string name, string literal) =>
        new(name, device => device.Record(Some.Reading(9.3)).Replace("\"value\":9.3", $"\"value\":{literal}"));

    private static BadFact Running(string name, string literal) => new(name, device =>
    {
        SentEvent sent = device.Record(Some.BoxSealed());
        return sent.Replace($"\"{Envelope.RunningNumber}\":{sent.RunningNumber}", $"\"{Envelope.RunningNumber}\":{literal}");
    });
}
