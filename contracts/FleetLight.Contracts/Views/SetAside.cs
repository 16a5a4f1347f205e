namespace FleetLight.Contracts.Views;

/// <summary>What is to be taken in again.</summary>
/// <param name="Pieces">Number of facts and things.</param>
public sealed record TakingInView(int Pieces);
