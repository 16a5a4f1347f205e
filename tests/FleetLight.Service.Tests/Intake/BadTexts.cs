using FleetLight.Testing.Service;

namespace FleetLight.Service.Tests.Intake;

/// <summary>Texts that no fact can hold, and events that are no JSON at all.</summary>
internal static class BadTexts
{
    public static IReadOnlyList<BadFact> All { get; } =
    [
        Label("the character zero in a text", "\"a\\u0000b\""),
        Label("half a surrogate pair", "\"\\ud800\""),
        Label("a raw line break in a text", "\"a\nb\""),
        Label("an unknown escape", "\"\\x41\""),
        Label("a label of 81 characters", $"\"{new string('x', 81)}\""),
        Label("a label of 200,000 characters", $"\"{new string('x', 200_000)}\""),
        Label("a label of 300,000 characters", $"\"{new string('x', 300_000)}\""),
        Site("an empty id of a thing", ""),
        Site("an id of a thing with a blank", "site 1"),
        Site("an id of a thing that begins with a dash", "-site"),
        Site("an id of a thing with a letter of another script", "garten-ä"),
        Site("an id of a thing with a line break at its end", "site-1\n"),
        Site("an id of a thing of 65 characters", new string('s', 65)),
        new("a trailing comma", device => device.Record(Some.BoxSealed()).ChangeText(text => text[..^1] + ",}")),
        new("a comment", device => device.Record(Some.BoxSealed()).ChangeText(text => text[..^1] + "/* by the gate */}")),
        new("single quotes", device => device.Record(Some.BoxSealed()).ChangeText(text => text.Replace('"', '\''))),
        new("no JSON at all", device => device.Record(Some.BoxSealed()).ChangeText(_ => "box sealed")),
        new("a value without its name", device => device.Record(Some.BoxSealed()).ChangeText(_ => "{:1}")),
        new("nothing between two commas", device => device.Record(Some.BoxSealed()).ChangeText(_ => " ")),
    ];

    private static BadFact Label(string name, string literal) =>
        new(name, device => device.Record(Some.BoxSealed()).Replace("\"label\":\"B1\"", $"\"label\":{literal}"));

    private static BadFact Site(string name, string id) =>
        new(name, device => device.Record(Some.BoxSealed()).ChangeData(data => data["siteId"] = id));

    private static SentEvent ChangeText(this SentEvent sent, Func<string, string> change) => sent with { Text = change(sent.Text) };
}
