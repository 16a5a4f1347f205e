using System.Text;
using System.Text.Json.Nodes;

namespace FleetLight.Endurance.Tests.Fuzz;

/// <summary>Makes bodies that are nearly right: sound JSON with a few members changed, and the text of it with a few bytes changed.</summary>
internal static class JsonMutator
{
    // Stands in the tree where raw text will stand in the body.
    private const string Mark = "@@raw@@";

    /// <summary>The body with one to three changes.</summary>
    public static byte[] Mutate(JsonNode sound, Random dice)
    {
        JsonNode root = sound.DeepClone();
        List<string> raw = [];
        for (int changes = dice.Next(1, 4); changes > 0; changes--) Change(root, raw, dice);
        StringBuilder text = new(root.ToJsonString());
        foreach (string token in raw)
        {
            int at = text.ToString().IndexOf($"\"{Mark}\"", StringComparison.Ordinal);
            if (at >= 0) text.Remove(at, Mark.Length + 2).Insert(at, token);
        }

        byte[] body = Encoding.UTF8.GetBytes(text.ToString());
        return dice.Next(4) == 0 ? Bend(body, dice) : body;
    }

    /// <summary>The bytes with a few of them changed, taken away, doubled or put in.</summary>
    public static byte[] Bend(byte[] body, Random dice)
    {
        List<byte> bytes = [.. body];
        for (int changes = dice.Next(1, 4); changes > 0 && bytes.Count > 0; changes--)
        {
            int at = dice.Next(bytes.Count);
            switch (dice.Next(5))
            {
                case 0:
                    bytes[at] ^= (byte)(1 << dice.Next(8));
                    break;
                case 1:
                    bytes.InsertRange(at, Hostile.Of(dice, Hostile.Bytes));
                    break;
                case 2:
                    bytes.RemoveRange(at, Math.Min(bytes.Count - at, dice.Next(1, 40)));
                    break;
                case 3:
                    bytes.InsertRange(at, bytes.GetRange(at, Math.Min(bytes.Count - at, dice.Next(1, 40))));
                    break;
                default:
                    bytes.RemoveRange(at, bytes.Count - at);
                    break;
            }
        }

        return [.. bytes];
    }

    private static void Change(JsonNode root, List<string> raw, Random dice)
    {
        List<JsonNode> all = [];
        Collect(root, all);
        switch (Hostile.Of(dice, all))
        {
            case JsonObject some when some.Count > 0:
                string name = Hostile.Of(dice, [.. some.Select(pair => pair.Key)]);
                if (dice.Next(6) == 0) some.Remove(name);
                else if (dice.Next(6) == 0) some[Text(dice)] = Value(raw, dice);
                else some[name] = Value(raw, dice);
                break;
            case JsonObject empty:
                empty[Text(dice)] = Value(raw, dice);
                break;
            case JsonArray list when list.Count > 0 && dice.Next(3) > 0:
                list[dice.Next(list.Count)] = Value(raw, dice);
                break;
            case JsonArray list:
                for (int more = dice.Next(1, 60); more > 0; more--) list.Add(list.Count > 0 ? list[0]?.DeepClone() : Value(raw, dice));
                break;
        }
    }

    private static JsonValue? Value(List<string> raw, Random dice)
    {
        if (dice.Next(3) == 0) return JsonValue.Create(Text(dice));
        raw.Add(Hostile.Of(dice, Hostile.Tokens));
        return JsonValue.Create(Mark);
    }

    private static string Text(Random dice) => Hostile.Of(dice, Hostile.Texts);

    private static void Collect(JsonNode? node, List<JsonNode> all)
    {
        if (node is JsonObject or JsonArray) all.Add(node);
        if (node is JsonObject some)
        {
            foreach ((_, JsonNode? member) in some) Collect(member, all);
        }
        else if (node is JsonArray list)
        {
            foreach (JsonNode? member in list) Collect(member, all);
        }
    }
}
