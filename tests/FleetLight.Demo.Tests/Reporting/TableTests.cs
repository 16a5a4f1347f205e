using FleetLight.Demo.Reporting;

namespace FleetLight.Demo.Tests.Reporting;

public sealed class TableTests
{
    [Fact]
    public void Cells_are_wrapped_to_their_columns()
    {
        var table = new Table(("Thing", 8), ("Says", 12));
        table.Add("a duct of\nours", "open since the last pull");
        table.Add("b", "");
        using var output = new StringWriter();
        table.Write(output);
        Assert.Equal(
            """
            Thing     Says
            --------  ------------
            a duct    open since
            of        the last
            ours      pull
            b

            """,
            output.ToString());
    }

    [Fact]
    public void A_word_that_is_too_long_stands_alone() =>
        Assert.Equal(["an", "extraordinary", "one"], Table.Wrap("an extraordinary one", 6));
}
