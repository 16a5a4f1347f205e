using FleetLight.Contracts.Proofs;
using FleetLight.Contracts.Wire;

namespace FleetLight.Client;

/// <summary>A call did not give what was asked for.</summary>
public abstract class FleetLightException : Exception
{
    private protected FleetLightException(string message, Exception? inner = null) : base(message, inner)
    {
    }

    /// <summary>Whether the same request may succeed later. Handing facts in again is always harmless.</summary>
    public abstract bool IsPassing { get; }

    /// <summary>How long the service asks to be left alone, s; none where it says nothing.</summary>
    public TimeSpan? RetryAfter { get; init; }
}

/// <summary>The service answered with a problem (RFC 9457). Decide by the <see cref="Contracts.Wire.Problem.Type"/>.</summary>
public sealed class ProblemException : FleetLightException
{
    /// <summary>A problem that came with a status.</summary>
    public ProblemException(Problem problem, int status) : base(Say(problem))
    {
        Problem = problem;
        Status = status;
    }

    /// <summary>What is wrong, where, and what to do. <c>about:blank</c> where something else than the service answered.</summary>
    public Problem Problem { get; }

    /// <summary>HTTP status of the answer, a code without a unit.</summary>
    public int Status { get; }

    /// <inheritdoc/>
    public override bool IsPassing => Status is 408 or 429 or >= 500;

    private static string Say(Problem problem) =>
        string.Join(' ', new[] { problem.Title.TrimEnd('.') + ".", problem.Detail, problem.Remedy }.Where(text => !string.IsNullOrEmpty(text)));
}

/// <summary>Why no answer came.</summary>
public enum UnreachableReason
{
    /// <summary>No connection could be made: nothing was handled.</summary>
    NoConnection,

    /// <summary>The answer did not come in time; the request may have been handled.</summary>
    TimedOut,

    /// <summary>The connection ended before the answer was whole; the request may have been handled.</summary>
    Cut,

    /// <summary>Too many tries failed shortly before, so none was made: nothing was handled.</summary>
    Stopped,
}

/// <summary>No answer came.</summary>
public sealed class ServiceUnreachableException : FleetLightException
{
    /// <summary>No answer, for that reason.</summary>
    public ServiceUnreachableException(UnreachableReason reason, string message, Exception? inner = null) : base(message, inner) => Reason = reason;

    /// <summary>Why.</summary>
    public UnreachableReason Reason { get; }

    /// <inheritdoc/>
    public override bool IsPassing => true;
}

/// <summary>Something answered that is not what the contract says: a gateway, a page to log in, or noise.</summary>
public sealed class UnreadableAnswerException : FleetLightException
{
    /// <summary>An answer that cannot be read.</summary>
    public UnreadableAnswerException(string message, Exception? inner = null) : base(message, inner)
    {
    }

    /// <inheritdoc/>
    public override bool IsPassing => true;
}

/// <summary>The service answered, and what it answered does not prove what was to be proved.</summary>
public sealed class ProofException : FleetLightException
{
    /// <summary>A proof in which something does not hold.</summary>
    public ProofException(ProofFinding finding) : base(Say(finding)) => Fault = finding.Fault;

    /// <summary>What does not hold.</summary>
    public ProofFault Fault { get; }

    /// <inheritdoc/>
    public override bool IsPassing => false;

    private static string Say(ProofFinding finding)
    {
        ArgumentNullException.ThrowIfNull(finding);
        return finding.Says;
    }
}
