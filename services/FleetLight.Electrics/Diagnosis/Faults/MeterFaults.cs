namespace FleetLight.Electrics;

/// <summary>Slips with the meter.</summary>
internal static class MeterFaults
{
    // A prefix misread, or a point in the wrong place; 0 stands for a range of alternating volts or amps.
    private static readonly double[] Factors = [0.1, 10, 0.001, 1000, 0];

    public static IEnumerable<FaultDefinition> All =>
    [
        new(FaultKind.MeterOnWrongRange, "Meter on the wrong range", 0.005)
        {
            AlsoShows = "The fittings are lit as they should be.",
            WhatToDo = "Set the meter to direct volts or amps and measure again; write the unit down with the number.",
            Cases = WrongRange,
            Says = f => f.Figure == 0
                ? $"The meter stood on a range for alternating current, which shows next to nothing{f.ForReading}."
                : $"The meter was on the wrong range or a prefix was misread{f.ForReading}: {Factor(f.Figure)}.",
        },
        new(FaultKind.MeterLeadsReversed, "Meter leads reversed", 0.006)
        {
            AlsoShows = "The fittings are lit as they should be.",
            WhatToDo = "Exchange the meter's leads and measure again; if the sign stays, check the polarity of the circuit.",
            Cases = LeadsReversed,
            Says = f => $"The meter's leads were exchanged{f.ForReading}.",
        },
    ];

    private static IEnumerable<FaultCase> WrongRange(FaultScope scope)
    {
        foreach (var quantity in scope.Quantities)
        {
            if (quantity == MeasuredQuantity.FittingLit) continue;
            foreach (var factor in Factors)
            {
                if (factor == 0 && quantity is not (MeasuredQuantity.VoltsDc or MeasuredQuantity.Milliamps)) continue;
                foreach (var reading in OneOrAll(scope, quantity))
                {
                    yield return new FaultCase(reading < 0 ? 1 : 1.0 / scope.QuantityOfReading.Count(q => q == quantity))
                    {
                        Reading = reading,
                        Variant = $"{quantity} {reading}",
                        Figure = factor,
                        Meaning = FigureMeaning.MeterFactor,
                        Changes = [new MeterOnWrongRange(quantity, factor)],
                    };
                }
            }
        }
    }

    private static IEnumerable<FaultCase> LeadsReversed(FaultScope scope)
    {
        if (!scope.Quantities.Any(HasSign)) yield break;
        yield return new FaultCase(1) { Changes = [new MeterLeadsReversed()] };
        var signed = scope.QuantityOfReading.Count(HasSign);
        if (signed < 2) yield break;
        for (var i = 0; i < scope.QuantityOfReading.Length; i++)
        {
            if (!HasSign(scope.QuantityOfReading[i])) continue;
            yield return new FaultCase(1.0 / signed)
            {
                Reading = i,
                Variant = $"{i}",
                Changes = [new MeterLeadsReversed()],
            };
        }
    }

    // All readings of the quantity, and each alone where there are several.
    private static IEnumerable<int> OneOrAll(FaultScope scope, MeasuredQuantity quantity)
    {
        yield return -1;
        if (scope.QuantityOfReading.Count(q => q == quantity) < 2) yield break;
        for (var i = 0; i < scope.QuantityOfReading.Length; i++)
            if (scope.QuantityOfReading[i] == quantity) yield return i;
    }

    private static bool HasSign(MeasuredQuantity quantity) =>
        quantity is MeasuredQuantity.VoltsDc or MeasuredQuantity.Milliamps;

    private static string Factor(double factor) => factor >= 1
        ? $"{factor:0} times too much was written down"
        : $"{1 / factor:0} times too little was written down";
}
