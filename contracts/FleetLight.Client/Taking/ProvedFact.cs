using FleetLight.Contracts.Proofs;

namespace FleetLight.Client.Taking;

/// <summary>A fact of which it was checked that it is in the ledger.</summary>
/// <param name="Fact">The fact, <c>source#id</c>.</param>
/// <param name="Index">Its place in the ledger, a number without a unit, from 0.</param>
/// <param name="Line">Its line, as the export has it, without the line break.</param>
/// <param name="Checkpoint">What the checkpoint says in which it is.</param>
public sealed record ProvedFact(string Fact, long Index, string Line, CheckpointNote Checkpoint);
