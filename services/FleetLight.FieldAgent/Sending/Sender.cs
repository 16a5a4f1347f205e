using FleetLight.Client;
using FleetLight.Client.Devices;
using FleetLight.Contracts.Wire;
using FleetLight.FieldAgent.Faults;
using FleetLight.FieldAgent.Outbox;

namespace FleetLight.FieldAgent.Sending;

/// <summary>What a step of the sender came to.</summary>
internal enum StepKind
{
    /// <summary>Nothing waits.</summary>
    Idle,

    /// <summary>A batch was answered; another may wait.</summary>
    Sent,

    /// <summary>It failed in a way that passes.</summary>
    Failed,

    /// <summary>The service does not take the key: a person has to see to it.</summary>
    NotTaken,
}

/// <summary>What a step came to.</summary>
/// <param name="Kind">What.</param>
/// <param name="Asked">How long the service asked to be left alone.</param>
/// <param name="Why">What failed, in plain words.</param>
internal sealed record Step(StepKind Kind, TimeSpan? Asked = null, string? Why = null);

/// <summary>
/// Sends one batch after the other. Begins, and begins again after every failure, by asking the service what it has; believes
/// nothing but an answer for a fact's own id. Not for several threads.
/// </summary>
internal sealed class Sender(DeviceApi device, string source, Outgoing outgoing, FieldOptions options, TimeProvider clock, IFaultPoints faults)
{
    private static readonly TimeSpan HeldFor = TimeSpan.FromHours(1);
    private BatchSize size = BatchSize.First;
    private bool asked;
    private long askedAt;

    /// <summary>How many facts the next batch holds at most.</summary>
    public BatchSize Size => size;

    /// <summary>Takes one step.</summary>
    public async Task<Step> StepAsync(CancellationToken cancel)
    {
        try
        {
            outgoing.Release();
            if (!asked || clock.GetElapsedTime(askedAt) > options.LookEvery)
            {
                var receipt = await device.ReceiptAsync(cancel);
                if (receipt.Source != source || receipt.Missing is null) return Failed("The receipt that came is not this device's.");
                outgoing.TakeIn(receipt);
                asked = true;
                askedAt = clock.GetTimestamp();
            }
        }
        catch (FleetLightException failed)
        {
            return Failed(failed);
        }

        var batch = outgoing.Next(size.Events);
        return batch.Count == 0 ? new Step(StepKind.Idle) : await SendAsync(batch, cancel);
    }

    private async Task<Step> SendAsync(IReadOnlyList<OutgoingFact> batch, CancellationToken cancel)
    {
        var began = clock.GetTimestamp();
        BatchReceipt answer;
        try
        {
            faults.Reach("send.asked");
            answer = await device.HandInAsync(FactEvent.Batch(batch.Select(fact => (ReadOnlyMemory<byte>)fact.Text)), cancel);
            faults.Reach("send.answered");
        }
        catch (FleetLightException failed)
        {
            size = size.After(IsTooMuch(failed) ? BatchFate.TooMuch : BatchFate.NotHandled, batch.Count, clock.GetElapsedTime(began), options.TryTimeout);
            // Alone it is still not taken: the others shall not wait for it.
            if (batch.Count == 1 && failed is ProblemException { Status: 400 or 413 or 415 or 422 } problem) outgoing.Hold(batch[0], problem.Problem, HeldFor);
            return Failed(failed);
        }

        if (!Standing.Answers(answer, source, [.. batch.Select(fact => fact.Id)])) return Failed("The answer that came is not one to what was sent.");
        outgoing.Settle(batch, answer);
        askedAt = clock.GetTimestamp();
        size = size.After(BatchFate.Answered, batch.Count, clock.GetElapsedTime(began), options.TryTimeout);
        return new Step(StepKind.Sent);
    }

    private static bool IsTooMuch(FleetLightException failed) => failed
        is ProblemException { Status: 400 or 408 or 413 or 415 or 422 or 504 }
        or ServiceUnreachableException { Reason: UnreachableReason.TimedOut or UnreachableReason.Cut };

    private Step Failed(FleetLightException failed)
    {
        asked = false;
        if (failed is ProblemException { Status: 401 or 403 or 409 } notTaken)
        {
            var text = $"The service does not take this device's key: {notTaken.Message} Ask the office for a new code and enrol again; the facts stay here.";
            outgoing.Trouble(text);
            return new Step(StepKind.NotTaken, failed.RetryAfter, text);
        }

        outgoing.Trouble(failed.Message);
        return new Step(StepKind.Failed, failed.RetryAfter, failed.Message);
    }

    private Step Failed(string why) => Failed(new UnreadableAnswerException(why));
}
