namespace FleetLight.Electrics;

/// <summary>Finds the first thing in a question that stands in the way of an answer.</summary>
internal static class HeadroomCheck
{
    /// <summary>The most fittings that one question may add.</summary>
    public const int MostAdded = 200;

    /// <summary>The most fittings and runs that a circuit may have.</summary>
    public const int MostParts = 1000;

    public static CannotExpect? FirstObstacle(HeadroomQuestion? question, HeadroomOptions options)
    {
        if (question is null) return Range("question", "a question");
        if (question.Circuit is not { } circuit) return Range("circuit", "a circuit");
        if (question.Where is not { } where) return Range("where", "a place");
        return OptionsObstacle(options)
            ?? CircuitObstacle(circuit)
            ?? AddedObstacle(question)
            ?? PlaceObstacle(circuit, where)
            ?? SpareObstacle(question)
            ?? RunObstacle(where.Run);
    }

    /// <summary>Whether a refusal is about what was recorded and not about what the circuit can do.</summary>
    public static bool IsAboutTheRecord(CannotExpect refusal) => refusal.Reason
        is RefusalReason.DriverRatingMissing or RefusalReason.NoFittings or RefusalReason.OutOfRange
        or RefusalReason.NonStandardArea or RefusalReason.BadId or RefusalReason.NotConnected;

    private static CannotExpect? OptionsObstacle(HeadroomOptions options)
    {
        if (!(options.MarginPercent is >= 0 and < 100)) return Range("options.marginPercent", "0 to below 100 %");
        if (options.MostDropPercent is { } drop && !(drop is > 0 and <= 100))
            return Range("options.mostDropPercent", "above 0 to 100 %");
        if (options.MostProposals is < 0 or > 100) return Range("options.mostProposals", "0 to 100");
        if (!ConductorResistance.TryOhmsPerKilometreAt20(options.RunClass, 1, out _))
            return Range("options.runClass", "class 1, 2 or 5");
        var costs = options.Costs;
        if (costs is null) return Range("options.costs", "costs of 0 to 1000000");
        foreach (var cost in (ReadOnlySpan<double>)[
            costs.OtherWatts, costs.LargerNewRunPerStep, costs.NearerNode, costs.SpareCoresInParallel,
            costs.FewerFittingsEach, costs.LargerDriver, costs.LargerExistingRun, costs.LargerExistingRunPerStep])
        {
            if (!(cost is >= 0 and <= 1e6)) return Range("options.costs", "costs of 0 to 1000000");
        }

        return null;
    }

    // A circuit without fittings may be added to. Everything else that is wrong with its record is found here or, with
    // the fittings in it, by the model.
    private static CannotExpect? CircuitObstacle(CircuitModel circuit)
    {
        if (circuit.Driver is null)
            return new CannotExpect(RefusalReason.DriverRatingMissing, "The driver is not recorded.", "circuit.driver");
        var fittings = circuit.Fittings.OrEmpty();
        var runs = circuit.Runs.OrEmpty();
        if (fittings.Length + runs.Length > MostParts)
            return Range("circuit", $"at most {MostParts} fittings and runs");
        for (var i = 0; i < fittings.Length; i++)
            if (string.IsNullOrEmpty(fittings[i]?.Id)) return BadId($"circuit.fittings[{i}].id");
        for (var i = 0; i < runs.Length; i++)
        {
            if (string.IsNullOrEmpty(runs[i]?.Id)) return BadId($"circuit.runs[{i}].id");
            if (string.IsNullOrEmpty(runs[i].From)) return BadId($"circuit.runs[{i}].from");
            if (string.IsNullOrEmpty(runs[i].To)) return BadId($"circuit.runs[{i}].to");
        }

        return null;
    }

    private static CannotExpect? AddedObstacle(HeadroomQuestion question)
    {
        var added = question.Fittings.OrEmpty();
        if (added.IsEmpty) return new CannotExpect(RefusalReason.NoFittings, "No fitting is to be added.", "fittings");
        if (added.Length > MostAdded) return Range("fittings", $"1 to {MostAdded} fittings");
        var nodes = Nodes(question.Circuit);
        for (var i = 0; i < added.Length; i++)
        {
            if (added[i] is not { } fitting || string.IsNullOrEmpty(fitting.Id) || !nodes.Add(fitting.Id))
                return BadId($"fittings[{i}].id");
            if (!CircuitCheck.IsWattage(fitting.RatedWatts))
                return Range($"fittings[{i}].ratedWatts", "0.001 to 10000 W");
        }

        return null;
    }

    private static CannotExpect? PlaceObstacle(CircuitModel circuit, AddedWhere where)
    {
        if (where.Node is null || !Nodes(circuit).Contains(where.Node))
            return NotThere("The node is none of the circuit's.", "where.node");
        var path = where.SpareRunIds.OrEmpty();
        var place = where.Node;
        for (var i = 0; i < path.Length; i++)
        {
            var run = AlteredCircuit.Find(circuit, path[i]);
            if (run is null) return NotThere("The run is none of the circuit's.", $"where.spareRunIds[{i}]");
            if (path.IndexOf(path[i]) < i)
                return NotThere("The run is named twice.", $"where.spareRunIds[{i}]");
            if (run.From != place && run.To != place)
                return NotThere("The run does not begin where the one before ends.", $"where.spareRunIds[{i}]");
            place = AlteredCircuit.FarEnd(run, place);
        }

        return null;
    }

    private static CannotExpect? SpareObstacle(HeadroomQuestion question)
    {
        var spare = question.SpareCores.OrEmpty();
        for (var i = 0; i < spare.Length; i++)
        {
            if (AlteredCircuit.Find(question.Circuit, spare[i].RunId) is null)
                return NotThere("The run is none of the circuit's.", $"spareCores[{i}].runId");
            if (spare[i].Count is < 0 or > 1000) return Range($"spareCores[{i}].count", "0 to 1000");
        }

        return null;
    }

    private static CannotExpect? RunObstacle(NewRun? run)
    {
        if (run is null) return null;
        if (!(run.LengthMetres is >= 0 and <= 100_000)) return Range("where.run.lengthMetres", "0 to 100000 m");
        if (!(run.SpacingMetres is >= 0 and <= 10_000)) return Range("where.run.spacingMetres", "0 to 10000 m");
        if (!(run.LengthTolerancePercent is >= 0 and < 100))
            return Range("where.run.lengthTolerancePercent", "0 to below 100 %");
        return ConductorResistance.TryOhmsPerKilometreAt20(run.ConductorClass, run.AreaSquareMillimetres, out _)
            ? null
            : new CannotExpect(
                RefusalReason.NonStandardArea,
                "The conductor area is not one of IEC 60228 from 0.5 to 16 mm²; nothing is interpolated.",
                "where.run.areaSquareMillimetres");
    }

    private static HashSet<string> Nodes(CircuitModel circuit)
    {
        var nodes = new HashSet<string>(StringComparer.Ordinal) { CircuitModel.DriverNode };
        foreach (var fitting in circuit.Fittings.OrEmpty()) nodes.Add(fitting.Id);
        foreach (var run in circuit.Runs.OrEmpty()) nodes.UnionWith([run.From, run.To]);
        return nodes;
    }

    private static CannotExpect Range(string field, string range) =>
        new(RefusalReason.OutOfRange, $"The value is missing or outside its range, which is {range}.", field);

    private static CannotExpect BadId(string field) =>
        new(RefusalReason.BadId, "An id is missing, used already, or is the word \"driver\".", field);

    private static CannotExpect NotThere(string text, string field) => new(RefusalReason.NotConnected, text, field);
}
