using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.PageParts.Drawings.Circuits;
using FleetLight.PageParts.Measuring;
using FleetLight.PageParts.Wording;
using FleetLight.Record.Circuits;
using Microsoft.AspNetCore.Components;

namespace FleetLight.Field.Measuring;

/// <summary>What happens on the measuring page.</summary>
public sealed partial class MeasurePage
{
    private const string Remembered = "measuring";

    // Causes are asked for once the fingers rest: each question replaces the one before.
    private static readonly TimeSpan Rest = TimeSpan.FromMilliseconds(300);

    private Spot? spot;
    private MeasuredCircuit? circuit;
    private CircuitParts drawing = new() { Id = "" };
    private string text = "";
    private bool unreadable;
    private ReadingView? judged;
    private TogetherView? together;
    private CauseList? causes;
    private bool keeping;
    private string? kept;
    private string? wrong;
    private string? notFound;
    private CancellationTokenSource? looking;
    private bool isLarge;
    private int edition;

    /// <summary>The circuit of the address, if it names one.</summary>
    [Parameter]
    public string? CircuitId { get; set; }

    /// <inheritdoc/>
    protected override async Task OnInitializedAsync()
    {
        Site.Changed += Show;
        var last = await Store.SettingAsync<Spot>(Remembered);
        if (last is not null && Site.Designs.Any(design => design.CircuitId == last.CircuitId) && (CircuitId is null || CircuitId == last.CircuitId))
        {
            spot = last;
            Read();
        }
        else
        {
            await BeginAsync();
        }
    }

    // With the circuit of the address, or the only one there is.
    private async Task BeginAsync()
    {
        await TakeAsync(Site.Designs.FirstOrDefault(design => design.CircuitId == CircuitId || (CircuitId is null && Site.Designs.Count == 1))?.CircuitId);
        StateHasChanged();
    }

    private async Task TakeAsync(string? circuitId)
    {
        if (string.IsNullOrEmpty(circuitId)) return;
        // What would explain the readings of another circuit says nothing of this one.
        causes = null;
        spot = Spot.AtDriver(circuitId);
        Read();
        await Store.SetAsync(Remembered, spot);
    }

    private void Read()
    {
        circuit = spot is null ? null : MeasuredCircuit.Of(Site, spot.CircuitId);
        Clear();
        drawing = circuit?.Drawing(null) ?? drawing;
    }

    private async Task GoTo(string? node)
    {
        if (string.IsNullOrEmpty(node) || spot is null || circuit is null) return;
        spot = spot.At(node, circuit.IsFitting);
        Clear();
        await Store.SetAsync(Remembered, spot);
    }

    private async Task Ask(ReadingQuantity quantity)
    {
        spot = spot! with { Quantity = quantity };
        Clear();
        await Store.SetAsync(Remembered, spot);
    }

    // What the causes marked stays on the drawing while the meter is carried to the next place.
    private void Clear()
    {
        edition++;
        StopLooking();
        (text, unreadable, judged, together, kept, wrong, notFound) = ("", false, null, null, null, null, null);
    }

    private Task Typed(ChangeEventArgs typed) => JudgeAsync(typed.Value as string ?? "");

    private Task Turn() => JudgeAsync(text.StartsWith('-') || text.StartsWith('−') ? text[1..] : text.Length > 0 ? "−" + text : text);

    private async Task JudgeAsync(string typed)
    {
        text = typed;
        var mine = ++edition;
        StopLooking();
        (judged, together, kept, wrong, notFound) = (null, null, null, null, null);
        unreadable = typed.Trim().Length > 0 && typed.Trim() is not ("-" or "−") && !Figures.TryRead(typed, out _);
        if (unreadable || !Figures.TryRead(typed, out var value) || circuit is null || spot is null) return;
        var reading = circuit.Reading(spot, value, Clock.GetUtcNow(), Site.Identity?.Source ?? "");
        judged = circuit.Judge(reading);
        StateHasChanged();
        await Task.Delay(Rest, Clock);
        if (mine == edition) await ExplainAsync(reading, mine);
    }

    private async Task ExplainAsync(ReadingEntry reading, int mine)
    {
        together = circuit!.Together(reading);
        if (circuit.Question(reading) is not { } question)
        {
            Explained(null);
            return;
        }

        using var asking = looking = new CancellationTokenSource();
        isLarge = question.Circuit.Fittings.Length > CauseFinder.ManyFittings;
        StateHasChanged();
        FleetLight.Contracts.Calculations.Answers.NextMeasurementAnswer? answer;
        try
        {
            answer = await CauseFinder.AskAsync(question, Clock, asking.Token);
        }
        catch (OperationCanceledException)
        {
            return;
        }

        if (mine != edition) return;
        looking = null;
        if (answer is null || CauseList.Of(answer) is not { } found) notFound = "Nothing in the list of known faults explains it.";
        else Explained(found);
        StateHasChanged();
    }

    // The person has seen enough; the verdict stands, and the service works the causes out once the reading is sent.
    private void GiveUp()
    {
        StopLooking();
        notFound = "Given up. The verdict stands; the office sees what would explain it once the reading is kept and sent.";
    }

    private void StopLooking()
    {
        looking?.Cancel();
        looking = null;
    }

    private void Explained(CauseList? found)
    {
        causes = found;
        drawing = circuit!.Drawing(found);
        StateHasChanged();
    }

    private async Task KeepAsync()
    {
        if (spot is null || circuit is null || !Figures.TryRead(text, out var value)) return;
        keeping = true;
        var outcome = await Site.RecordAsync(
        [
            new ReadingTaken { SiteId = circuit.Design.SiteId, CircuitId = spot.CircuitId, Place = spot.Place, PlaceId = spot.PlaceId, Quantity = spot.Quantity, Value = value },
        ]);
        keeping = false;
        if (outcome.Problems is [var first, ..])
        {
            wrong = $"{first.Detail} {first.Remedy}";
            return;
        }

        var said = $"{Figures.Of(value, spot.Quantity)} at {circuit.Names.InSentence(spot.Node)} is kept on this phone. It is sent by itself when there is a signal.";
        var found = causes;
        Read();
        drawing = circuit!.Drawing(found);
        kept = said;
    }

    // Facts of others came in: what the circuit should read may be another now. What is being typed stays.
    private void Show()
    {
        if (spot is null)
        {
            // Opened before the site's facts were here: its circuits are known now.
            _ = InvokeAsync(BeginAsync);
            return;
        }

        if (MeasuredCircuit.Of(Site, spot.CircuitId) is not { } now || circuit?.IsAs(now) == true) return;
        circuit = now;
        drawing = circuit.Drawing(causes);
        StateHasChanged();
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        edition++;
        StopLooking();
        Site.Changed -= Show;
    }
}
