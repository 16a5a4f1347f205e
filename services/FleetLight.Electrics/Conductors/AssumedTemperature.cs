namespace FleetLight.Electrics;

/// <summary>A temperature that is assumed where none was recorded, and how sure one can be of it.</summary>
/// <param name="Celsius">Best estimate, °C.</param>
/// <param name="StandardUncertaintyKelvin">Standard uncertainty (one standard deviation), K.</param>
public readonly record struct AssumedTemperature(double Celsius, double StandardUncertaintyKelvin);
