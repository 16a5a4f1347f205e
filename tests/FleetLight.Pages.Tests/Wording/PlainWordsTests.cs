using System.Reflection;
using FleetLight.Contracts;
using FleetLight.PageParts.Wording;

namespace FleetLight.Pages.Tests.Wording;

/// <summary>Every word of the contracts that pages show has plain words of its own.</summary>
public sealed class PlainWordsTests
{
    private static readonly MethodInfo[] Worded = [.. typeof(PlainWords).GetMethods(BindingFlags.Public | BindingFlags.Static).Where(method => method.Name == "Of")];

    // Words that answers carry for programs, each with a text in plain words beside it, and words that no page shows yet.
    private static readonly string[] WithTextBeside =
    [
        "KindOfFault", "NoAnswerReason", "RemarkCode", "TouchLimit", "TouchBasis", "UncertaintyMethod", "BudgetSource", "ReachOfPlace",
        "StopMeasuringReason", "ReadingVerdictReason", "MayAdd", "AddingLimit", "AddingStep", "FillRule", "PermittedPull", "RopeGrip", "CableArmour",
        "PullingEnd", "DriftShows", "NoDriftReason", "FactOutcome", "TimeDoubt", "TakeAlongItem", "MaintenanceHand",
        // Said by programs to programs.
        "ToldKind",
        // Shown by no page; what checks proofs says what does not hold.
        "ProofFault", "SealVerdict",
    ];

    public static TheoryData<string> Enumerations => [.. typeof(ThingKind).Assembly.GetExportedTypes().Where(type => type.IsEnum).Select(type => type.Name).Except(WithTextBeside)];

    [Theory]
    [MemberData(nameof(Enumerations))]
    public void No_value_lacks_words(string name)
    {
        var method = Array.Find(Worded, each => each.GetParameters()[0].ParameterType.Name == name);
        Assert.True(method is not null, $"PlainWords has nothing for {name}.");
        var values = Enum.GetValues(method.GetParameters()[0].ParameterType).Cast<object>().ToArray();
        var words = values.Select(value => (string)method.Invoke(null, [value])!).ToArray();

        Assert.All(words, text => Assert.False(string.IsNullOrWhiteSpace(text)));
        Assert.Equal(words.Length, words.Distinct().Count());
        // Within a sentence, and where only the contract's word is at hand, the same is said.
        Assert.Equal(words.Select(text => char.ToLowerInvariant(text[0]) + text[1..]), values.Select(value => PlainWords.InSentence((Enum)value)));
    }

    [Fact]
    public void A_word_in_an_address_says_the_same_as_its_value()
    {
        foreach (var verdict in Enum.GetValues<Contracts.Views.CircuitVerdict>())
            Assert.Equal(PlainWords.InSentence(verdict), PageParts.Signs.Words.Say(PageParts.Signs.Words.Of(verdict)));
        Assert.Equal("trouble if left", PageParts.Signs.Words.Say("warning"));
        Assert.Equal("reading outside", PageParts.Signs.Words.Say("reading-outside"));
    }

    [Theory]
    [InlineData(12.345, ReadingQuantity.VoltsDc, "12.35 V")]
    [InlineData(-3, ReadingQuantity.VoltsDc, "−3.00 V")]
    [InlineData(349.6, ReadingQuantity.Milliamps, "350 mA")]
    [InlineData(0.5, ReadingQuantity.LoopOhms, "0.50 Ω")]
    public void Figures_have_their_unit(double value, ReadingQuantity quantity, string text) => Assert.Equal(text, Figures.Of(value, quantity));

    [Theory]
    [InlineData(0, "0 %")]
    [InlineData(0.004, "less than 1 %")]
    [InlineData(0.42, "42 %")]
    [InlineData(0.997, "more than 99 %")]
    [InlineData(1, "100 %")]
    public void Shares_are_told_in_percent(double share, string text) => Assert.Equal(text, Figures.Percent(share));
}
