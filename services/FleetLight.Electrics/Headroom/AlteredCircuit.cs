using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>Makes the circuit that a question asks about.</summary>
internal static class AlteredCircuit
{
    /// <summary>The circuit with the fittings in it; the question has been checked.</summary>
    public static CircuitModel Build(HeadroomQuestion question)
    {
        var circuit = question.Circuit;
        var names = new FreeNames(circuit, question.Fittings);
        var runs = circuit.Runs.OrEmpty().ToBuilder();
        var node = LayOnSpareCores(question, names, runs);
        LayNewRun(question, names, runs, node);
        return circuit with { Fittings = WithAdded(question), Runs = runs.ToImmutable() };
    }

    /// <summary>The end of a run that is not the one given.</summary>
    public static string FarEnd(RunModel run, string near) => run.From == near ? run.To : run.From;

    /// <summary>The run of a name; null where there is none.</summary>
    public static RunModel? Find(CircuitModel circuit, string? id)
    {
        foreach (var run in circuit.Runs.OrEmpty())
            if (run?.Id == id) return run;
        return null;
    }

    // The spare pair passes the same boxes as the circuit's own cores, but its nodes are its own.
    private static string LayOnSpareCores(
        HeadroomQuestion question, FreeNames names, ImmutableArray<RunModel>.Builder runs)
    {
        var (node, place) = (question.Where.Node, question.Where.Node);
        foreach (var id in question.Where.SpareRunIds.OrEmpty())
        {
            var lying = Find(question.Circuit, id)!;
            place = FarEnd(lying, place);
            var next = names.Free($"{place}, spare cores");
            runs.Add(lying with
            {
                Id = names.Free($"{id}, spare cores"),
                From = node,
                To = next,
                ConductorsInLoop = 2,
                JointOhms = 0,
            });
            node = next;
        }

        return node;
    }

    private static void LayNewRun(
        HeadroomQuestion question, FreeNames names, ImmutableArray<RunModel>.Builder runs, string node)
    {
        // Fittings that hang where a cable ends already are joined to it by a run of no length.
        var laid = question.Where.Run ?? new NewRun(0, 2.5, Contracts.ConductorClass.Class5);
        var length = laid.LengthMetres;
        foreach (var fitting in question.Fittings)
        {
            runs.Add(new RunModel(
                names.Free("new run"), node, fitting.Id, length, laid.AreaSquareMillimetres, laid.ConductorClass)
            {
                LengthTolerancePercent = laid.LengthTolerancePercent,
                Surroundings = laid.Surroundings,
            });
            length = laid.SpacingMetres;
            node = fitting.Id;
        }
    }

    // A series loop passes fittings in the order of the model: those hung on a fitting come after it.
    private static ImmutableArray<FittingModel> WithAdded(HeadroomQuestion question)
    {
        var there = question.Circuit.Fittings.OrEmpty();
        for (var i = 0; i < there.Length; i++)
            if (there[i].Id == question.Where.Node) return there.InsertRange(i + 1, question.Fittings);
        return there.AddRange(question.Fittings);
    }

    /// <summary>Names that nothing in the circuit has yet.</summary>
    private sealed class FreeNames
    {
        private readonly HashSet<string> taken = new(StringComparer.Ordinal) { CircuitModel.DriverNode };

        public FreeNames(CircuitModel circuit, ImmutableArray<FittingModel> added)
        {
            foreach (var fitting in circuit.Fittings.OrEmpty()) taken.Add(fitting.Id);
            foreach (var fitting in added) taken.Add(fitting.Id);
            foreach (var run in circuit.Runs.OrEmpty()) taken.UnionWith([run.Id, run.From, run.To]);
        }

        public string Free(string wish)
        {
            var name = wish;
            for (var n = 2; !taken.Add(name); n++) name = $"{wish} {n}";
            return name;
        }
    }
}
