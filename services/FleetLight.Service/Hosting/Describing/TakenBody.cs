namespace FleetLight.Service.Hosting.Describing;

/// <summary>
/// The body that an endpoint takes, for its description only. The framework's own marker would also choose the endpoint by
/// the media type, and a wrong one would then be answered as if the path did not exist.
/// </summary>
/// <param name="Type">What the body holds.</param>
/// <param name="MediaTypes">As what it is sent.</param>
public sealed record TakenBody(Type Type, IReadOnlyList<string> MediaTypes);

/// <summary>Says of endpoints what they take.</summary>
public static class TakenBodyExtensions
{
    /// <summary>The endpoint takes a body that holds that, as one of the media types.</summary>
    public static RouteHandlerBuilder Takes<T>(this RouteHandlerBuilder endpoint, params string[] mediaTypes) =>
        endpoint.WithMetadata(new TakenBody(typeof(T), mediaTypes));
}
