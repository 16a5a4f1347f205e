using System.Text.Json;
using System.Text.Json.Serialization;

namespace FleetLight.Contracts.Wire;

/// <summary>
/// Writes the members of an enumeration as kebab-case words and reads exactly these: no C# name, no number, no list. What is
/// taken in is what the schemas say.
/// </summary>
public sealed class WordConverter : JsonConverterFactory
{
    /// <summary>What the text of a refusal begins with; the words that are taken follow.</summary>
    public const string Refusal = "None of the words taken here: ";

    /// <inheritdoc/>
    public override bool CanConvert(Type typeToConvert) => typeToConvert.IsEnum;

    /// <inheritdoc/>
    public override JsonConverter CreateConverter(Type typeToConvert, JsonSerializerOptions options) =>
        (JsonConverter)Activator.CreateInstance(typeof(Of<>).MakeGenericType(typeToConvert))!;

    private sealed class Of<T> : JsonConverter<T> where T : struct, Enum
    {
        private static readonly T[] Members = Enum.GetValues<T>();

        private static readonly JsonEncodedText[] Words =
            [.. Members.Select(member => JsonEncodedText.Encode(JsonNamingPolicy.KebabCaseLower.ConvertName(member.ToString())))];

        public override T Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            reader.TokenType == JsonTokenType.String ? Find(ref reader) : throw Refused();

        public override T ReadAsPropertyName(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            Find(ref reader);

        public override void Write(Utf8JsonWriter writer, T value, JsonSerializerOptions options) =>
            writer.WriteStringValue(WordOf(value));

        public override void WriteAsPropertyName(Utf8JsonWriter writer, T value, JsonSerializerOptions options) =>
            writer.WritePropertyName(WordOf(value));

        // The words are few and short: comparing bytes is quicker than making a string to look up.
        private static T Find(ref Utf8JsonReader reader)
        {
            for (var i = 0; i < Words.Length; i++)
                if (reader.ValueTextEquals(Words[i].EncodedUtf8Bytes)) return Members[i];
            throw Refused();
        }

        private static JsonEncodedText WordOf(T value)
        {
            var at = Array.IndexOf(Members, value);
            return at >= 0 ? Words[at] : throw new JsonException($"{typeof(T).Name} has no member {value}.");
        }

        private static JsonException Refused() => new(Refusal + string.Join(", ", Words.Select(word => word.Value)));
    }
}
