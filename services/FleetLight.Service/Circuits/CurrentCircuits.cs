using FleetLight.Record.Circuits;
using FleetLight.Service.Works;
using Npgsql;

namespace FleetLight.Service.Circuits;

/// <summary>A circuit as it stands: what is kept of its readings, and what follows from its other facts.</summary>
/// <param name="Row">What is kept of its readings.</param>
/// <param name="Basis">What follows from its other facts.</param>
public sealed record CurrentCircuit(CircuitRow Row, CircuitBasis Basis);

/// <summary>Finds circuits as they stand.</summary>
public sealed class CurrentCircuits(NpgsqlDataSource database, BasisCache bases)
{
    /// <summary>The circuit; none where the organisation has none of that id.</summary>
    public async Task<CurrentCircuit?> FindAsync(string organisation, string id, CancellationToken cancel)
    {
        if (!(await CircuitRows.LoadAsync(database, organisation, [id], cancel)).TryGetValue(id, out var row)) return null;
        var basis = bases.Find(organisation, id, row.BasisStamp);
        if (basis is null)
        {
            // The basis may have moved on since the row was read; what is shown is then newer than asked, never older.
            basis = (await new StateRows(database, organisation).FindAsync<StampedBasis>(StateKinds.Basis, id, cancel))!;
            bases.Add(organisation, basis);
        }

        return new(row, basis.Basis);
    }
}
