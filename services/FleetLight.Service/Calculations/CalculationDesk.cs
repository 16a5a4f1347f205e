using FleetLight.Contracts.Calculations;
using FleetLight.Service.Access;
using FleetLight.Service.Hosting;
using FleetLight.Service.Intake;

namespace FleetLight.Service.Calculations;

/// <summary>Answers requests for calculations, no more of them at once than the gate lets in.</summary>
public sealed class CalculationDesk(CalculationGate gate)
{
    /// <summary>Answers a request.</summary>
    public async Task<IResult> AnswerAsync(ICalculation calculation, HttpRequest request, Caller caller, CancellationToken cancel)
    {
        var (body, problem) = await ReadBodyAsync(request, cancel);
        if (problem is not null) return Problems.Result(problem);
        (var work, problem) = calculation.Read(body);
        return work is null ? Problems.Result(problem!) : await RunAsync(work, request, caller, cancel);
    }

    /// <summary>Reads what is asked.</summary>
    public static Task<(byte[] Body, Contracts.Wire.Problem? Problem)> ReadBodyAsync(HttpRequest request, CancellationToken cancel) =>
        BodyReader.ReadAsync(request, CalculationLimits.MostBytes, () => Problems.RequestTooLarge(CalculationLimits.MostBytes), cancel);

    /// <summary>Makes a calculation once the gate lets it in.</summary>
    public async Task<IResult> RunAsync(CalculationWork work, HttpRequest request, Caller caller, CancellationToken cancel)
    {
        using var place = await gate.EnterAsync(caller.Organisation, work.IsHeavy, cancel);
        if (place is null)
        {
            request.HttpContext.Response.Headers.RetryAfter = CalculationGate.RetryAfterSeconds;
            return Problems.Result(Problems.TooBusy());
        }

        var (answer, wrong) = work.IsHeavy ? await OnItsOwnThreadAsync(work.Run) : work.Run();
        return wrong is null ? Answers.Json(answer) : Problems.Result(wrong);
    }

    // A long calculation on a thread of the pool would keep other requests waiting for one.
    private static Task<T> OnItsOwnThreadAsync<T>(Func<T> work) =>
        Task.Factory.StartNew(work, CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default);
}
