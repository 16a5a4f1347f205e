using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Views;
using FleetLight.Record.Files;

namespace FleetLight.Record.Checks.Across;

/// <summary>What settings of judging must say together.</summary>
internal static class JudgingRules
{
    public static void Check(JudgingSettings settings, CheckRun run)
    {
        if (settings.Priors is not { } priors) return;
        Repeats.Check(priors, prior => Words.Of(prior.Fault), "priors", "fault", "Name each fault once.", run);
        for (var i = 0; i < priors.Length; i++)
        {
            if (priors[i] is not { Fault: KindOfFault.AsDesigned or KindOfFault.NoneOfThese, Prior: 0 }) continue;
            run.OutOfRange(
                $"priors[{i}].prior", "A circuit as designed and a fault that nobody thought of are always looked for.", "Give more than 0.");
        }
    }
}
