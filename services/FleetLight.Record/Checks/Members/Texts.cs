using System.Text.RegularExpressions;
using FleetLight.Contracts.Facts;

namespace FleetLight.Record.Checks.Members;

/// <summary>Text for people.</summary>
internal sealed class TextMember<T>(string name, Func<T, string?> get, bool mayMiss, int most, FormAttribute? form)
    : Member<T>(name)
{
    private readonly Regex? pattern =
        form is null ? null : new Regex(form.Pattern, RegexOptions.CultureInvariant | RegexOptions.NonBacktracking);

    // From this length on a text is a remark, which may have several lines; shorter ones are names and labels.
    private const int RemarkLength = 500;

    /// <inheritdoc/>
    public override void Check(T owner, CheckRun run)
    {
        if (get(owner) is not { } text)
        {
            if (!mayMiss) Missing(run);
            return;
        }

        if (text.Length > most)
        {
            run.OutOfRange(
                Name, $"{Name} has {text.Length} characters; at most {most} are accepted.", $"Shorten {Name}.");
        }

        if (string.IsNullOrWhiteSpace(text))
            run.Invalid(Name, $"{Name} is blank.", mayMiss ? $"Give {Name} or leave it out." : $"Give {Name}.");
        else if (HasBadCharacter(text))
        {
            run.Invalid(
                Name,
                $"{Name} holds a control character or half of a surrogate pair.",
                most >= RemarkLength
                    ? "Send letters, digits, signs, spaces and line breaks."
                    : "Send letters, digits, signs and spaces.");
        }
        else if (pattern?.IsMatch(text) == false)
        {
            run.Invalid(Name, $"{Name} has another form than asked for.", $"Give {form!.Says}.");
        }
    }

    private bool HasBadCharacter(string text)
    {
        for (var i = 0; i < text.Length; i++)
        {
            var c = text[i];
            if (char.IsControl(c) && !(most >= RemarkLength && c is '\n' or '\r')) return true;
            if (!char.IsSurrogate(c)) continue;
            if (!char.IsHighSurrogate(c) || i + 1 == text.Length || !char.IsLowSurrogate(text[i + 1])) return true;
            i++;
        }

        return false;
    }
}

/// <summary>The identifier of a thing.</summary>
internal sealed class IdMember<T>(string name, Func<T, string?> get, bool mayMiss) : Member<T>(name)
{
    /// <inheritdoc/>
    public override void Check(T owner, CheckRun run)
    {
        if (get(owner) is not { } id)
        {
            if (!mayMiss) Missing(run);
        }
        else if (!Ids.IsGood(id))
        {
            Ids.Bad(Name, Name, run);
        }
    }
}

/// <summary>A list of identifiers of things.</summary>
internal sealed class IdListMember<T>(string name, Func<T, string?[]?> get, bool mayMiss, ListAttribute list)
    : Member<T>(name)
{
    /// <inheritdoc/>
    public override void Check(T owner, CheckRun run)
    {
        if (get(owner) is not { } ids)
        {
            if (!mayMiss) Missing(run);
            return;
        }

        Counts.Check(Name, ids.Length, list, run);
        for (var i = 0; i < ids.Length; i++)
        {
            if (ids[i] is { } id && Ids.IsGood(id)) continue;
            run.Enter(Name);
            run.Enter(i);
            Ids.Bad("", "The identifier", run);
            run.Leave();
            run.Leave();
        }
    }
}

/// <summary>
/// The pattern of identifiers, <see cref="ThingIdAttribute.Pattern"/>, by hand: it is checked for every fact.
/// </summary>
internal static class Ids
{
    private const int Most = 64;

    public static bool IsGood(string id)
    {
        if (id.Length is 0 or > Most || !char.IsAsciiLetterOrDigit(id[0])) return false;
        foreach (var c in id)
            if (!char.IsAsciiLetterOrDigit(c) && c is not ('.' or '_' or ':' or '-')) return false;
        return true;
    }

    public static void Bad(string member, string subject, CheckRun run) => run.Invalid(
        member,
        $"{subject} is not an identifier.",
        $"Use 1 to {Most} of the letters a to z and A to Z, digits, dot, underscore, colon and hyphen, beginning "
            + "with a letter or digit.");
}
