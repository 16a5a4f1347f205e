using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Intake;
using FleetLight.Service.Hosting;
using FleetLight.Service.Store;
using Marten;

namespace FleetLight.Service.Intake;

/// <summary>What a device hands in with one request.</summary>
/// <param name="Organisation">The tenant.</param>
/// <param name="Source">The device.</param>
/// <param name="Events">The events, read.</param>
/// <param name="DeviceClock">What the device's clock showed as it sent.</param>
/// <param name="MendedBy">The key that mended them, where they had been refused before.</param>
/// <param name="SetAsideAs">Under which id the one event stands aside already, where it does: still wrong, it stays there.</param>
public sealed record HandIn(
    string Organisation, string Source, IReadOnlyList<ReadEvent> Events, DateTimeOffset? DeviceClock, string? MendedBy = null,
    string? SetAsideAs = null);

/// <summary>
/// Keeps what devices hand in. One transaction holds the good facts, the refused ones and the receipt, and has reached
/// the disk before the device is answered. The lock on the device's row puts its batches in order, here and on every
/// other node, so that looking the ids up first always tells what is known already.
/// </summary>
public sealed class DeviceDesk(AppendStore store, DaemonNudge nudge, DeviceGates gates, TimeProvider clock)
{
    /// <summary>Handles one request.</summary>
    public async Task<BatchReceipt> HandInAsync(HandIn handIn, CancellationToken cancel)
    {
        var receivedAt = clock.GetUtcNow();
        var error = (handIn.DeviceClock - receivedAt)?.TotalSeconds;
        var facts = new Arrival?[handIn.Events.Count];
        for (var index = 0; index < facts.Length; index++)
        {
            if (handIn.Events[index] is { Fact: not null, Problem: null } read)
                facts[index] = Arrival.Of(handIn, read, receivedAt);
        }

        using var span = Tracing.Source.StartActivity("append facts");
        using var gate = await gates.EnterAsync(handIn.Organisation, handIn.Source, cancel);
        await using var session = store.Documents.LightweightSession(
            new Marten.Services.SessionOptions { TenantId = handIn.Organisation, Timeout = (int)TimeLimit.Answer.TotalSeconds });
        await session.BeginTransactionAsync(cancel);
        var (numbers, known) = await DeviceRows.LockAsync(
            session, handIn.Source, [.. facts.Where(fact => fact is not null).Select(fact => fact!.EventId)], cancel);

        var trace = Tracing.Mark;
        var outcomes = new EventOutcome[facts.Length];
        var fresh = new List<object>(facts.Length);
        var refused = new List<RefusedFact>();
        for (var index = 0; index < facts.Length; index++)
        {
            var read = handIn.Events[index];
            var problem = read.Problem;
            if (facts[index] is { } fact)
            {
                if (!known.TryGetValue(fact.EventId, out var digest))
                {
                    known[fact.EventId] = fact.Fact.Of.Digest;
                    fresh.Add(fact.ToEvent(trace));
                    outcomes[index] = new EventOutcome { Index = index, Id = read.Id, Outcome = FactOutcome.Recorded, TimeDoubt = fact.Fact.Of.TimeDoubt };
                    continue;
                }

                if (digest == fact.Fact.Of.Digest)
                {
                    outcomes[index] = new EventOutcome { Index = index, Id = read.Id, Outcome = FactOutcome.Duplicate };
                    continue;
                }

                problem = IdReused();
            }

            var aside = Aside(handIn, read, problem!, receivedAt);
            refused.Add(aside);
            outcomes[index] = new EventOutcome
            {
                Index = index,
                Id = read.Id,
                Outcome = FactOutcome.Refused,
                Problem = problem,
                RefusedId = aside.Id,
            };
        }

        var inHand = numbers.With(handIn.Events
            .Where(read => read.RunningNumber is >= 1 && string.Equals(read.Source, handIn.Source, StringComparison.Ordinal))
            .Select(read => read.RunningNumber!.Value));
        if (fresh.Count > 0) session.Events.Append(handIn.Source, fresh);
        if (refused.Count > 0) await SetAsideAsync(session, refused, cancel);
        DeviceRows.Update(session, handIn.Source, inHand, receivedAt);
        await session.SaveChangesAsync(cancel);
        if (fresh.Count > 0) nudge.Appended();
        span.OfFacts(IntakeTelling.RecordedIds(handIn.Source, outcomes))
            ?.SetTag("fleetlight.organisation", handIn.Organisation).SetTag("fleetlight.source", handIn.Source)
            .SetTag("fleetlight.facts.recorded", fresh.Count).SetTag("fleetlight.facts.refused", refused.Count);

        return new BatchReceipt
        {
            Receipt = inHand.ToReceipt(handIn.Source),
            Outcomes = outcomes,
            Recorded = fresh.Count,
            Duplicates = outcomes.Length - fresh.Count - refused.Count,
            Refused = refused.Count,
            ClockErrorSeconds = error,
        };
    }

    /// <summary>The receipt of a device that hands nothing in.</summary>
    public async Task<Receipt> ReceiptAsync(string organisation, string source, CancellationToken cancel)
    {
        await using var session = store.Documents.QuerySession(organisation);
        return (await DeviceRows.ReadAsync(session, source, cancel)).ToReceipt(source);
    }

    private static async Task SetAsideAsync(IDocumentSession session, List<RefusedFact> refused, CancellationToken cancel)
    {
        // A refused fact that is sent again stays as it is: it may have been mended meanwhile.
        var present = await session.LoadManyAsync<RefusedFact>(cancel, refused.Select(fact => fact.Id).Distinct());
        var ids = present.Select(fact => fact.Id).ToHashSet(StringComparer.Ordinal);
        foreach (var fact in refused)
        {
            if (ids.Add(fact.Id)) session.Store(fact);
        }
    }

    private static RefusedFact Aside(HandIn handIn, ReadEvent read, Problem problem, DateTimeOffset receivedAt)
    {
        var text = BatchReader.TextOf(read);
        return new RefusedFact
        {
            Id = handIn.SetAsideAs ?? EventIds.Of("refused", handIn.Organisation, handIn.Source, text).ToString("N"),
            Source = handIn.Source,
            // The store cannot hold the character zero, which no good fact holds.
            FactId = read.Id?.Replace('\0', '\uFFFD'),
            RunningNumber = read.RunningNumber,
            Text = text.Replace('\0', '\uFFFD'),
            Problem = problem,
            RefusedAt = receivedAt,
            State = RefusedState.Open,
        };
    }

    private static Problem IdReused() => new()
    {
        Type = ProblemTypes.IdReused,
        Title = "The id is known with other content",
        Status = StatusCodes.Status409Conflict,
        Field = "id",
        Detail = "A fact with this id is recorded already, with other content. What was recorded first stays.",
        Remedy = "Give a new fact a new id. To change what was recorded, send a correction.",
    };

    private sealed record Arrival(Guid EventId, RecordedFact Fact)
    {
        public static Arrival Of(HandIn handIn, ReadEvent read, DateTimeOffset receivedAt)
        {
            var time = FactClock.Decide(read.Time, handIn.DeviceClock, receivedAt);
            var origin = new FactOrigin
            {
                Source = handIn.Source,
                Id = read.Id!,
                RunningNumber = read.RunningNumber!.Value,
                DeviceTime = read.Time,
                HappenedAt = time.HappenedAt,
                RecordedAt = receivedAt,
                TimeDoubt = time.Doubt,
                ClockErrorSeconds = time.ClockErrorSeconds is { } error ? Math.Round(error, 1) : null,
                Digest = Digest(read),
                MendedBy = handIn.MendedBy,
            };
            return new Arrival(EventIds.OfFact(handIn.Organisation, handIn.Source, read.Id!), new RecordedFact(origin, read.Fact!));
        }

        public object ToEvent(string? trace) => Keep.Event(EventId, Fact, trace);

        private static string Digest(ReadEvent read)
        {
            using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
            var type = read.Fact!.GetType();
            hash.AppendData(Encoding.UTF8.GetBytes($"{Contracts.Facts.FactTypes.NameOf(type)}|{read.RunningNumber}|{read.Time.UtcTicks}|"));
            hash.AppendData(JsonSerializer.SerializeToUtf8Bytes(read.Fact, type, WireJson.Strict));
            return Convert.ToHexStringLower(hash.GetHashAndReset().AsSpan(0, 16));
        }
    }
}
