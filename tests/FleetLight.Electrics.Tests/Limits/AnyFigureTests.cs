using System.Text.Json;
using FleetLight.Contracts;
using FsCheck;
using FsCheck.Xunit;

namespace FleetLight.Electrics.Tests.Limits;

/// <summary>Any figure at all gives an answer that can be stored, or none, and never an exception.</summary>
public class AnyFigureTests
{
    private static readonly double[] Odd =
    [
        double.NaN, double.PositiveInfinity, double.NegativeInfinity, double.MaxValue, double.Epsilon, -1, 0, 1e-300,
    ];

    [Property(MaxTest = 2000)]
    public bool Limits_and_conductors(PositiveInt seed)
    {
        var random = new Random(seed.Get);
        var (a, b, c) = (Figure(random), Figure(random), Figure(random));
        var kind = (ConductorClass)random.Next(-1, 4);
        var lies = (RunSurroundings)random.Next(-1, 4);
        Stored(VoltageDrop.MostPercent((SupplyOwner)random.Next(3), (CircuitUse)random.Next(3), a));
        Stored(VoltageDrop.AnnexGVolts(a, b, c));
        Stored(VoltageDrop.MillivoltsPerAmpereMetre(kind, a, b));
        Stored(ExtraLowVoltage.IsRippleFree(a, b, c));
        Stored(ExtraLowVoltage.ClassOfDc(a));
        Stored(ConductorCurrent.Rating(a, lies));
        Stored(ConductorCurrent.SelfHeatingKelvin(1.5, lies, b));
        return ContinuityAndPolarity.MostOhms(a, 1.5, kind, b) is null or >= 0;
    }

    [Property(MaxTest = 2000)]
    public bool Ducts(PositiveInt seed)
    {
        var random = new Random(seed.Get);
        var (a, b, c) = (Figure(random), Figure(random), Figure(random));
        var route = new[] { new DuctStretch(a, b, c), new DuctStretch(Figure(random)) };
        var cable = new PulledCable(b, c)
        {
            Rule = (PullRule)random.Next(3),
            Grip = (PullGrip)random.Next(3),
            Armour = (PullArmour)random.Next(4),
            OutsideMillimetres = a,
        };
        var rule = (DuctFillRule)random.Next(3);
        return Answered(DuctFill.Of(a, [b, c], Figure(random)))
            && Answered(DuctFill.ByRule(a, [b, c], rule))
            && Answered(DuctFill.Of(10, [b, b, b]))
            && Answered(DuctPull.Along([new(10, 90, 1)], 1, c))
            && Answered(DuctFill.OneMore(a, [b], new DuctCable("x", c), rule))
            && Answered(DuctPull.Along(route, a, b, c))
            && Answered(PullLimit.Of(cable))
            && Answered(DuctPullPlan.Of(route, cable, Figure(random), Figure(random), Figure(random)));
    }

    [Property(MaxTest = 2000)]
    public bool Dead_and_live_tests(PositiveInt seed)
    {
        var random = new Random(seed.Get);
        var (a, b, c) = (Figure(random), Figure(random), Figure(random));
        MeterAccuracy? meter = random.Next(2) == 0 ? null : new MeterAccuracy(a, b, c);
        var kind = (ConductorClass)random.Next(-1, 4);
        TestJudgement[] judged =
        [
            InsulationResistance.Judge(a, random.Next(2) == 0, b, meter),
            InsulationResistance.JudgeSeparation(a, b, meter),
            RcdTime.Judge((RcdKind)random.Next(3), random.Next(7), a),
            DisconnectionTime.Judge((EarthingSystem)random.Next(3), a, b, random.Next(2) == 0),
            ContinuityAndPolarity.JudgeContinuity(a, b, 2.5, kind, c, meter),
            ContinuityAndPolarity.JudgeLineAndProtective(a, b, 2.5, 1.5, kind, c, meter),
        ];
        Stored(judged);
        return judged.All(j => j.Text.Length > 0 && j.Source.Length > 0 && j.Caution.Length > 0);
    }

    private static double Figure(Random random) =>
        random.Next(8) == 0 ? Odd[random.Next(Odd.Length)] : Math.Round(Math.Pow(10, random.NextDouble() * 4), 1);

    private static bool Answered<T>(Outcome<T> outcome)
        where T : class
    {
        Stored(outcome);
        return outcome.Value is null != outcome.Refusal is null;
    }

    private static void Stored<T>(T answer) => Assert.NotNull(JsonSerializer.Serialize(answer));
}
