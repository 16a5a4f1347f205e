using FleetLight.Service.Circuits;
using Npgsql;

namespace FleetLight.Service.Works;

/// <summary>What every page of the projection uses.</summary>
/// <param name="Database">The database.</param>
/// <param name="Cache">Remembered bases of circuits.</param>
/// <param name="Folds">The folds of the core.</param>
/// <param name="Watch">What tells of the work.</param>
public sealed record PageParts(NpgsqlDataSource Database, BasisCache Cache, WorksFolds Folds, WorksWatch Watch);
