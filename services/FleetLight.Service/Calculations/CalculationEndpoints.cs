using Microsoft.Extensions.DependencyInjection.Extensions;

namespace FleetLight.Service.Calculations;

/// <summary>Every calculation that can be asked for without any recorded site.</summary>
public static class CalculationEndpoints
{
    /// <summary>The path that they all begin with.</summary>
    public const string Path = "/v1/calculations";

    /// <summary>All of them.</summary>
    public static IReadOnlyList<ICalculation> All { get; } =
    [
        ExpectedCalculation.Calculation,
        VerdictCalculation.Calculation,
        DiagnosisCalculation.Calculation,
        NextMeasurementCalculation.Calculation,
        HeadroomCalculation.Calculation,
        DriftCalculation.Calculation,
        DuctFillCalculation.Calculation,
        DuctPullCalculation.Calculation,
    ];

    /// <summary>Adds what they need.</summary>
    public static void AddCalculations(this IServiceCollection services)
    {
        services.TryAddSingleton(new CalculationGateOptions());
        services.AddSingleton<CalculationGate>();
        services.AddSingleton<CalculationDesk>();
    }

    /// <summary>Maps them.</summary>
    public static void MapCalculations(this IEndpointRouteBuilder routes)
    {
        var group = routes.MapGroup(Path).WithTags("Calculations");
        foreach (var calculation in All) calculation.Map(group);
    }
}
