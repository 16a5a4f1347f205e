using System.Security.Cryptography;
using FleetLight.Service.Secrets;
using Xunit;

namespace FleetLight.Service.Tests.Secrets;

public sealed class SealTests
{
    private const string Secret = "whsec_c2VjcmV0LW9mLTMyLWJ5dGVzLWZvci10aGUtdGVzdHM=";

    private static readonly byte[] One = RandomNumberGenerator.GetBytes(32);
    private static readonly byte[] Other = RandomNumberGenerator.GetBytes(48);

    private static SecretSeal Of(byte[] current, params byte[][] others) => new(new SealingKeys(current, others, isOwn: false));

    [Fact]
    public void What_was_sealed_opens_and_shows_nothing()
    {
        SecretSeal seal = Of(One);

        string text = seal.Seal(Secret, "garden", "w1");

        Assert.Equal(Secret, seal.Open(text, "garden", "w1"));
        Assert.DoesNotContain(Secret[6..20], text, StringComparison.Ordinal);
        Assert.NotEqual(text, seal.Seal(Secret, "garden", "w1"));
    }

    [Fact]
    public void It_opens_only_for_whom_it_was_sealed()
    {
        SecretSeal seal = Of(One);
        string text = seal.Seal(Secret, "garden", "w1");

        Assert.Null(seal.Open(text, "garden", "w2"));
        Assert.Null(seal.Open(text, "square", "w1"));
        Assert.Null(Of(Other).Open(text, "garden", "w1"));
    }

    [Fact]
    public void A_changed_text_does_not_open()
    {
        SecretSeal seal = Of(One);
        string text = seal.Seal(Secret, "garden", "w1");
        int body = text.LastIndexOf('.') + 1;

        for (int at = body; at < text.Length - 2; at++)
        {
            char other = text[at] == 'A' ? 'B' : 'A';
            Assert.Null(seal.Open($"{text[..at]}{other}{text[(at + 1)..]}", "garden", "w1"));
        }

        foreach (string? broken in (string?[])[null, "", "s1", "s1..", "s2" + text[2..], text[..(body + 8)], "s1.unknown." + text[body..]])
            Assert.Null(seal.Open(broken, "garden", "w1"));
    }

    [Fact]
    public void Another_master_seals_anew_what_the_one_before_sealed_and_leaves_alone_what_it_cannot_open()
    {
        SealedSecrets before = new(Of(One).Seal(Secret, "garden", "w1"));

        SealedSecrets again = before.Again(Of(Other, One), "garden", "w1")!;

        Assert.Equal(Secret, Of(Other).Open(again.Sealed, "garden", "w1"));
        Assert.Null(again.Again(Of(Other, One), "garden", "w1"));
        Assert.Null(before.Again(Of(Other), "garden", "w1"));
    }

    [Fact]
    public void A_replaced_secret_signs_on_for_a_day()
    {
        SecretSeal seal = Of(One);
        DateTimeOffset now = new(2026, 5, 4, 7, 30, 0, TimeSpan.Zero);

        SealedSecrets replaced = new SealedSecrets(seal.Seal(Secret, "garden", "w1")).Replace("whsec_bmV3", seal, "garden", "w1", now);

        Assert.Equal(["whsec_bmV3", Secret], replaced.Open(seal, "garden", "w1", now.AddHours(23))!);
        Assert.Equal(["whsec_bmV3"], replaced.Open(seal, "garden", "w1", now.AddHours(24))!);
    }

    [Theory]
    [InlineData("AAAA", false)]
    [InlineData("not base64 at all, but long enough for 32 bytes of it", false)]
    [InlineData("AAECAwQFBgcICQoLDA0ODxAREhMUFRYXGBkaGxwdHg==", false)]
    [InlineData("AAECAwQFBgcICQoLDA0ODxAREhMUFRYXGBkaGxwdHh8=", true)]
    [InlineData("AAECAwQFBgcICQoLDA0ODxAREhMUFRYXGBkaGxwdHh8=\n", true)]
    public void A_master_secret_is_the_Base64_of_at_least_32_bytes(string text, bool isTaken) => Assert.Equal(isTaken, SealingKeys.TryRead(text, out _));
}
