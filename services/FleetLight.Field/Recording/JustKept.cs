using FleetLight.Contracts.Views;

namespace FleetLight.Field.Recording;

/// <summary>What was recorded last in this window, so that the first page can say so and offer what usually follows.</summary>
public sealed class JustKept
{
    /// <summary>What was kept; none where nothing was yet.</summary>
    public string? Says { get; private set; }

    /// <summary>The thing that it was about.</summary>
    public ThingRef? Thing { get; private set; }

    /// <summary>Keys of the forms that usually follow.</summary>
    public IReadOnlyList<string> Follows { get; private set; } = [];

    /// <summary>Whether somebody is filling in a form: a newer version of the page then waits.</summary>
    public bool Typing { get; private set; }

    /// <summary><see cref="Typing"/> changed.</summary>
    public event Action? TypingChanged;

    /// <summary>Something was kept.</summary>
    public void Keep(string says, ThingRef? thing, IReadOnlyList<string> follows) => (Says, Thing, Follows) = (says, thing, follows);

    /// <summary>Forgets it: another site was chosen.</summary>
    public void Clear() => (Says, Thing, Follows) = (null, null, []);

    /// <summary>Somebody began or ended to fill in a form.</summary>
    public void Type(bool typing)
    {
        if (Typing == typing) return;
        Typing = typing;
        TypingChanged?.Invoke();
    }
}
