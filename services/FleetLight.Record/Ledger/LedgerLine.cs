using System.Buffers;
using System.Globalization;
using System.Text;
using System.Text.Json;
using FleetLight.Contracts.Proofs;

namespace FleetLight.Record.Ledger;

/// <summary>
/// A fact as a line of its organisation's ledger: one JSON object in canonical form, made of what is kept and of nothing else, so
/// that it comes out the same from whichever build of the service. The line is the bytes of the leaf, and of the export.
/// </summary>
public static class LedgerLine
{
    // What is kept of the envelope beside the data; all other members of the origin are the service's own.
    private static readonly (string Kept, string Attribute)[] OfEnvelope =
        [("id", "id"), ("runningNumber", "runningnumber"), ("source", "source"), ("deviceTime", "time")];

    /// <summary>
    /// The line: <c>event</c> is the fact as a CloudEvents 1.0 event, <c>recorded</c> what the service noted beside it.
    /// </summary>
    /// <param name="index">Its place in the ledger, from 0.</param>
    /// <param name="organisation">Whose ledger it is.</param>
    /// <param name="type">Type of the fact with its version.</param>
    /// <param name="kept">The fact as it is kept: an object with <c>of</c> and <c>data</c>.</param>
    public static byte[] Of(long index, string organisation, string type, JsonElement kept)
    {
        var of = kept.GetProperty("of");
        var line = new ArrayBufferWriter<byte>(1024);
        // Each of these objects is written in the order of its members' names.
        line.Write("{\"event\":{\"data\":"u8);
        CanonicalJson.Write(line, kept.GetProperty("data"));
        foreach (var (name, attribute) in OfEnvelope.Take(3))
        {
            Name(line, attribute);
            CanonicalJson.Write(line, of.GetProperty(name));
        }

        line.Write(",\"specversion\":\"1.0\""u8);
        Name(line, OfEnvelope[3].Attribute);
        CanonicalJson.Write(line, of.GetProperty(OfEnvelope[3].Kept));
        Name(line, "type");
        CanonicalJson.Text(line, type);
        line.Write("},\"index\":"u8);
        line.Write(Encoding.ASCII.GetBytes(index.ToString(CultureInfo.InvariantCulture)));
        Name(line, "organisation");
        CanonicalJson.Text(line, organisation);
        Name(line, "recorded");
        CanonicalJson.Members(line, [.. of.EnumerateObject().Where(member => Array.TrueForAll(OfEnvelope, each => each.Kept != member.Name))]);
        line.Write("}"u8);
        return line.WrittenSpan.ToArray();
    }

    private static void Name(ArrayBufferWriter<byte> line, string name) => line.Write(Encoding.ASCII.GetBytes($",\"{name}\":"));
}
