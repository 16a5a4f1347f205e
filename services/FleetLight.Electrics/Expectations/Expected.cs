namespace FleetLight.Electrics;

/// <summary>Works out what a circuit should read.</summary>
public static class Expected
{
    /// <summary>
    /// The version of the models behind the answers; it rises when the same input may answer differently. Since 3 the readings
    /// of a visit are judged together.
    /// </summary>
    public const int ModelVersion = 3;

    /// <summary>
    /// What the circuit should read if it is sound and built as recorded, or why that cannot be said.
    /// </summary>
    /// <param name="model">The circuit. Any content is answered, with a named refusal where no figure is
    /// possible.</param>
    /// <param name="assumptions">What is assumed where the record is silent; the stated defaults if null.</param>
    /// <returns>An <see cref="ExpectedReadings"/> or a <see cref="CannotExpect"/>.</returns>
    public static ExpectedOutcome Of(CircuitModel? model, Assumptions? assumptions = null)
    {
        var plan = CircuitPlan.TryLay(model, assumptions, out var refusal);
        var outcome = plan switch
        {
            SeriesPlan series => SeriesExpectation.Of(series),
            NetworkPlan network => NetworkExpectation.Of(network),
            _ => refusal!,
        };
        return outcome is ExpectedReadings reads && FirstOrder.Note(plan!, reads) is { } note
            ? reads with { Notes = reads.Notes.Add(note) }
            : outcome;
    }
}
