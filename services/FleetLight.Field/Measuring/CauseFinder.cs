using System.Text.Json;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Contracts.Wire;
using Microsoft.JSInterop;

namespace FleetLight.Field.Measuring;

/// <summary>Asks the worker beside the page what would explain a reading.</summary>
public sealed class CauseFinder(IJSRuntime script) : IAsyncDisposable
{
    private IJSObjectReference? module;

    /// <summary>Starts the worker while nobody waits for it yet.</summary>
    public async Task PrepareAsync() => await (await ModuleAsync()).InvokeVoidAsync("prepare");

    /// <summary>The answer; none where a newer question took its place, or there is no answer.</summary>
    public async Task<NextMeasurementAnswer?> AskAsync(NextMeasurementRequest question)
    {
        var answer = await (await ModuleAsync()).InvokeAsync<string?>("ask", JsonSerializer.Serialize(question, WireJson.Lenient));
        return answer is null ? null : JsonSerializer.Deserialize<NextMeasurementAnswer>(answer, WireJson.Lenient);
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        if (module is null) return;
        await module.InvokeVoidAsync("stop");
        await module.DisposeAsync();
    }

    private async Task<IJSObjectReference> ModuleAsync() => module ??= await script.InvokeAsync<IJSObjectReference>("import", "./causes.js");
}
