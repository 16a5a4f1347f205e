namespace FleetLight.Field.Sites;

/// <summary>The units of the contract as people on site write them. Pure.</summary>
public static class FormWords
{
    /// <summary>A unit of the contract as it is written on site.</summary>
    public static string Unit(string unit) => unit switch
    {
        "mm2" => "mm²",
        "deg" => "°",
        "ohm" => "Ω",
        "Mohm" => "MΩ",
        "1" => "",
        "V, mA or ohm" => "",
        _ => unit,
    };
}
