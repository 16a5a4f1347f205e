using FleetLight.Record.Files;

namespace FleetLight.Record.Tests.Files;

/// <summary>The order in which people look for names.</summary>
public sealed class NaturalOrderTests
{
    [Theory]
    [InlineData("D2", "D10")]
    [InlineData("D-9", "D-10")]
    [InlineData("d2", "D3")]
    [InlineData("D2", "D02a")]
    [InlineData("A", "B")]
    [InlineData("D", "D1")]
    // What parts a name stands before what goes on in it: D, D-1 and D-2 stay together.
    [InlineData("D-2", "D1")]
    [InlineData("North-2", "Northern")]
    [InlineData("Box 2", "Box-1")]
    [InlineData("A-1-10", "A-2-1")]
    public void Numbers_count_by_their_value_and_signs_stand_before_figures_and_letters(string first, string second)
    {
        Assert.True(NaturalOrder.Comparer.Compare(first, second) < 0);
        Assert.True(NaturalOrder.Comparer.Compare(second, first) > 0);
    }

    [Theory]
    [InlineData("D2", "D02")]
    [InlineData("d2", "D2")]
    public void Names_that_people_take_for_one_still_have_an_order(string one, string other)
    {
        var order = NaturalOrder.Comparer.Compare(one, other);

        Assert.NotEqual(0, order);
        Assert.Equal(Math.Sign(order), -Math.Sign(NaturalOrder.Comparer.Compare(other, one)));
    }

    [Fact]
    public void A_number_too_long_for_any_type_has_its_place() =>
        Assert.True(NaturalOrder.Comparer.Compare("D99999999999999999999", "D100000000000000000000") < 0);

    // A sort asks for an order that holds round: with a before b and b before c, a is before c.
    [Fact]
    public void It_holds_round()
    {
        string[] parts = ["", "D", "d", "-", " ", "2", "02", "10"];
        string[] names = [.. parts.SelectMany(one => parts.SelectMany(two => parts.Select(three => one + two + three))).Distinct()];
        var sorted = names.Order(NaturalOrder.Comparer).ToArray();

        for (var i = 0; i < sorted.Length; i++)
            for (var j = i + 1; j < sorted.Length; j++) Assert.True(NaturalOrder.Comparer.Compare(sorted[i], sorted[j]) < 0, $"'{sorted[i]}' '{sorted[j]}'");
    }
}
