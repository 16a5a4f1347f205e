namespace FleetLight.Service.Limits;

/// <summary>What kind of call a request is: each kind has a limit of its own.</summary>
public enum CallKind
{
    /// <summary>Handing facts in.</summary>
    Intake,

    /// <summary>Reading.</summary>
    Read,

    /// <summary>Asking for a calculation.</summary>
    Calculation,

    /// <summary>Changing anything else.</summary>
    Administration,

    /// <summary>Without a key, or with one that is not in force; counted by network address.</summary>
    Anonymous,

    /// <summary>Exchanging a one-time code; counted by network address.</summary>
    Exchange,
}

/// <summary>Says of endpoints which limit counts.</summary>
public static class CallKinds
{
    /// <summary>The endpoint counts as that kind.</summary>
    public static TBuilder Limited<TBuilder>(this TBuilder builder, CallKind kind) where TBuilder : IEndpointConventionBuilder
    {
        builder.Add(endpoint => endpoint.Metadata.Add(new Counted(kind)));
        return builder;
    }

    /// <summary>The kind of a request with a key: as its endpoint says, else by its method.</summary>
    public static CallKind Of(HttpContext context) =>
        context.GetEndpoint()?.Metadata.GetMetadata<Counted>()?.Kind
        ?? (HttpMethods.IsGet(context.Request.Method) || HttpMethods.IsHead(context.Request.Method) ? CallKind.Read : CallKind.Administration);

    private sealed record Counted(CallKind Kind);
}
