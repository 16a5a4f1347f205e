using System.Text.Json;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Checks;

namespace FleetLight.Record.Designs;

/// <summary>Reads designs from JSON: the data of <c>fleetlight.circuit.designed.v1</c>, one or an array of them.</summary>
public static class DesignJson
{
    /// <summary>What a file says; of JSON that cannot be read, the one problem with it.</summary>
    public static DesignsRead Read(ReadOnlyMemory<byte> bytes)
    {
        JsonDocument document;
        try
        {
            document = JsonDocument.Parse(WithoutMark(bytes), new JsonDocumentOptions { MaxDepth = WireJson.Strict.MaxDepth });
        }
        catch (JsonException bad)
        {
            return new DesignsRead
            {
                Designs = [],
                Problems =
                [
                    new DesignProblem
                    {
                        Row = (int)Math.Min(int.MaxValue, (bad.LineNumber ?? 0) + 1),
                        Detail = "From this line on it cannot be read as JSON (RFC 8259).",
                        Remedy = "Send complete JSON in UTF-8: a design, or an array of designs.",
                    },
                ],
            };
        }

        using (document)
        {
            var designs = new List<CircuitDesigned>();
            var problems = new List<DesignProblem>();
            if (document.RootElement.ValueKind == JsonValueKind.Array)
            {
                var index = 0;
                foreach (var each in document.RootElement.EnumerateArray()) Add(each, $"[{index++}]", designs, problems);
                AddRepeats(designs, problems);
                if (index == 0) problems.Add(new DesignProblem { Detail = "There is no design in the array.", Remedy = "Send at least one." });
            }
            else
            {
                Add(document.RootElement, "", designs, problems);
            }

            return new DesignsRead { Designs = designs, Problems = problems };
        }
    }

    private static void Add(JsonElement element, string at, List<CircuitDesigned> designs, List<DesignProblem> problems)
    {
        CircuitDesigned? design;
        try
        {
            design = element.Deserialize<CircuitDesigned>(WireJson.Strict);
        }
        catch (JsonException bad)
        {
            var fault = JsonFault.Of(bad, at);
            problems.Add(new DesignProblem { Field = Named(fault.Field), CircuitId = IdOf(element), Detail = fault.Detail, Remedy = fault.Remedy });
            return;
        }

        if (design is null)
        {
            problems.Add(new DesignProblem { Field = Named(at), Detail = "It is null where a design should be.", Remedy = "Send a design, or leave it out." });
            return;
        }

        var wrong = DesignCheck.All(design);
        foreach (var one in wrong)
        {
            problems.Add(new DesignProblem
            {
                Field = Named((at + one.Field[FactCheck.Root.Length..]).TrimStart('.')),
                CircuitId = IdOf(element),
                Detail = one.Detail,
                Remedy = one.Remedy,
            });
        }

        if (wrong.Count == 0) designs.Add(design);
    }

    private static void AddRepeats(List<CircuitDesigned> designs, List<DesignProblem> problems)
    {
        foreach (var repeated in designs.GroupBy(design => design.CircuitId).Where(group => group.Count() > 1).ToList())
        {
            problems.Add(new DesignProblem
            {
                Field = "circuitId",
                CircuitId = repeated.Key,
                Detail = $"Circuit {repeated.Key} stands there {repeated.Count()} times.",
                Remedy = "Keep one, or give each circuit its own id.",
            });
            designs.RemoveAll(design => design.CircuitId == repeated.Key);
        }
    }

    private static string? IdOf(JsonElement element) =>
        element.ValueKind == JsonValueKind.Object && element.TryGetProperty("circuitId", out var id) && id.ValueKind == JsonValueKind.String ? id.GetString() : null;

    private static string? Named(string field) => field.Length == 0 ? null : field;

    private static ReadOnlyMemory<byte> WithoutMark(ReadOnlyMemory<byte> bytes) =>
        bytes.Span.StartsWith((ReadOnlySpan<byte>)[0xEF, 0xBB, 0xBF]) ? bytes[3..] : bytes;
}
