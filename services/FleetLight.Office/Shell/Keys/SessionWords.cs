using FleetLight.Client;

namespace FleetLight.Office.Shell.Keys;

/// <summary>What the page says where a key is not taken or a call fails.</summary>
public static class SessionWords
{
    /// <summary>The service does not know the key.</summary>
    public const string NotKnown = "The service does not know this key. Look whether it was copied whole; it may also have been revoked or have run out.";

    /// <summary>The key allows less than it takes.</summary>
    public const string MayNotRead = "This key is in force, but it may not read the status. Ask for one of the role office.";

    /// <summary>The key ended while the page was open.</summary>
    public const string Ended = "The key of this page is no longer taken: it was revoked, replaced or has run out. Nothing was changed since. Open again with another one.";

    /// <summary>The token of a sign-in ended while the page was open.</summary>
    public const string SignInEnded = "Your sign-in has run out or is no longer taken. Nothing was changed since. Sign in again.";

    /// <summary>No answer came.</summary>
    public const string NoAnswer = "The service does not answer.";

    /// <summary>What to say of a call that failed.</summary>
    public static string Of(FleetLightException failed) => failed switch
    {
        ProblemException { Status: 403 } => "The key of this page does not allow this. Ask for one of the role office.",
        ProblemException { IsPassing: false } problem => Join(problem.Problem.Detail ?? problem.Problem.Title, problem.Problem.Remedy),
        _ => NoAnswer,
    };

    private static string Join(string detail, string? remedy) => string.IsNullOrEmpty(remedy) ? detail : $"{detail} {remedy}";
}
