namespace FleetLight.Service.OpenData;

/// <summary>How the features of an organisation stand to its states.</summary>
internal enum FeatureStanding
{
    /// <summary>Something is missing: whoever asks has to wait.</summary>
    Behind,

    /// <summary>Abreast of the feed, and made anew of rebuilt states meanwhile.</summary>
    MadeAnew,

    /// <summary>Abreast of the feed.</summary>
    Abreast,
}
