using System.Net;
using FleetLight.Contracts.Views;
using FleetLight.Faults.Tests.Nodes;
using FleetLight.Testing.Service;

namespace FleetLight.Faults.Tests.Load;

/// <summary>Reads a circuit from one node after the other and sends back what it has seen, as the contract says.</summary>
internal static class AlternatingReader
{
    private const string SeenThrough = "Seen-Through";

    /// <summary>Reads until told to stop; the newest reading must never be older than one that was seen before. Gives the number of reads.</summary>
    public static async Task<int> ReadAsync(Organisation organisation, string circuit, ServiceNode[] nodes, CancellationToken stop)
    {
        Organisation[] seenAt = [.. nodes.Select(node => organisation.At(node.Anybody))];
        string seen = "";
        DateTimeOffset newest = DateTimeOffset.MinValue;
        int reads = 0;
        for (int turn = 0; !stop.IsCancellationRequested; turn++)
        {
            Answer answer;
            try
            {
                answer = await seenAt[turn % nodes.Length].Office.GetAsync(
                    $"/v1/circuits/{circuit}", seen.Length == 0 ? [] : [(SeenThrough, seen)]);
            }
            catch (HttpRequestException)
            {
                // That node has just been killed.
                await Task.Delay(5, CancellationToken.None);
                continue;
            }

            if (answer.Status is HttpStatusCode.NotFound && newest == DateTimeOffset.MinValue) continue;
            CircuitView view = answer.Expect(HttpStatusCode.OK).As<CircuitView>();
            seen = answer.Headers.GetValues(SeenThrough).Single();
            DateTimeOffset shown = view.LastReadings.Select(reading => reading.HappenedAt).DefaultIfEmpty(DateTimeOffset.MinValue).Max();
            Assert.True(shown >= newest, $"Read {reads} shows {shown:O} after {newest:O} was seen (through {seen}).");
            newest = shown;
            reads++;
        }

        return reads;
    }
}
