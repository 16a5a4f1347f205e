using System.Text;
using FleetLight.Record.Csv;
using FleetLight.Record.Tests.Works;
using FsCheck.Xunit;

namespace FleetLight.Record.Tests.Csv;

/// <summary>Tables as RFC 4180 writes them, and as offices do.</summary>
public sealed class CsvTextTests
{
    // The rules of RFC 4180, section 2, one by one.
    [Theory]
    [InlineData("a,b\r\nc,d\r\n", "a|b;c|d")]
    [InlineData("a,b\r\nc,d", "a|b;c|d")]
    [InlineData("\"a\",\"b\"\r\nc,d\r\n", "a|b;c|d")]
    [InlineData("a,\"b\r\nB\",c\r\n", "a|b\r\nB|c")]
    [InlineData("a,\"b,B\"\r\n", "a|b,B")]
    [InlineData("a,\"b\"\"B\"\r\n", "a|b\"B")]
    [InlineData("a,,\r\n", "a||")]
    // Line breaks of other systems, a blank line, white space around a cell, a quote inside one.
    [InlineData("a,b\nc,d\n", "a|b;c|d")]
    [InlineData("a,b\rc,d\r", "a|b;c|d")]
    [InlineData("\n\na,b\n\n,\nc,d\n\n", "a|b;c|d")]
    [InlineData(" a , \" b \" ,c\t\n", "a| b |c")]
    [InlineData("3\" pipe,b\n", "3\" pipe|b")]
    // Separators as the first row shows, or as a hint says.
    [InlineData("a;b,c;d\r\n1;2,5;3\r\n", "a|b,c|d;1|2,5|3")]
    [InlineData("a\tb\n1,5\t2\n", "a|b;1,5|2")]
    [InlineData("\"a;b;c\",d\n", "a;b;c|d")]
    [InlineData("sep=;\r\na,b;c\r\n", "a,b|c")]
    [InlineData("\uFEFFa;b\n", "a|b")]
    [InlineData("", "")]
    public void It_is_read(string text, string cells)
    {
        var read = CsvText.Read(text);

        Assert.Equal(cells, string.Join(';', read.Rows.Select(row => string.Join('|', row.Cells.Select(cell => cell.Text)))));
        Assert.Empty(read.Faults);
    }

    [Fact]
    public void Rows_are_counted_as_a_spreadsheet_does() =>
        Assert.Equal([1, 3, 4], CsvText.Read("a,b\n\nc,\"d\nD\"\ne,f\n").Rows.Select(row => row.Number));

    [Theory]
    [InlineData("a,b\nc,\"d\ne,f\n", 2, 2)]
    [InlineData("a,b\n\"c\"x,d\n", 2, 1)]
    public void A_quote_that_is_wrong_is_named(string text, int row, int column)
    {
        var fault = Assert.Single(CsvText.Read(text).Faults);

        Assert.Equal((row, column), (fault.Row, fault.Column));
    }

    [Fact]
    public void Bytes_are_read_in_the_alphabet_that_they_are_written_in()
    {
        const string said = "Höhe,Ende";
        Encoding[] alphabets = [new UTF8Encoding(true), new UnicodeEncoding(false, true), new UnicodeEncoding(true, true)];

        Assert.All(alphabets, alphabet => Assert.Equal("Höhe", CsvText.Read([.. alphabet.GetPreamble(), .. alphabet.GetBytes(said)]).Rows[0].Cells[0].Text));
        Assert.Equal("Höhe", CsvText.Read(Encoding.UTF8.GetBytes(said)).Rows[0].Cells[0].Text);
        Assert.Equal("Höhe", CsvText.Read(Encoding.Latin1.GetBytes(said)).Rows[0].Cells[0].Text);
    }

    [Property(MaxTest = 2000)]
    public void What_is_written_is_read_again(string?[][] table)
    {
        // A first row of one column holds no separator to be seen, and rows without any text are passed over.
        var written = new CsvTable("first", "second");
        var rows = table.Where(row => row.Length > 0 && row.Any(cell => !string.IsNullOrEmpty(cell))).ToList();
        foreach (var row in rows)
        {
            foreach (var cell in row) written.Text(cell);
            written.End();
        }

        var read = CsvText.Read(written.ToString());

        Assert.Empty(read.Faults);
        Assert.Equal(
            rows.Select(row => string.Join('\u0001', row.Select(cell => cell ?? ""))),
            read.Rows.Skip(1).Select(row => string.Join('\u0001', row.Cells.Select(cell => CsvTable.Said(cell.Text)))));
    }

    [Property(MaxTest = 2000)]
    public void A_number_is_read_again_the_same(double number)
    {
        if (!double.IsFinite(number)) return;
        var written = new CsvTable("a", "b").Number(number).Number(null);
        written.End();

        var cell = CsvText.Read(written.ToString()).Rows[1].Cells[0].Text;

        Assert.Equal(number, double.Parse(cell, System.Globalization.CultureInfo.InvariantCulture));
    }

    // Any text at all is read somehow, and so is every beginning of it.
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void Nothing_makes_it_fail(int seed)
    {
        var dice = new Dice(seed);
        string[] pieces = ["\"", "\"\"", ",", ";", "\t", "\r", "\n", "\r\n", " ", "a", "1,5", "sep=;", "\uFEFF", "=1+1", "\0", "é"];
        for (var round = 0; round < 20_000; round++)
        {
            var text = string.Concat(Enumerable.Range(0, dice.Below(14)).Select(_ => dice.Of(pieces)));
            var read = CsvText.Read(text);
            Assert.All(read.Rows, row => Assert.False(row.IsBlank));
            Assert.Equal(read.Rows.Select(row => row.Number).Order(), read.Rows.Select(row => row.Number));
        }
    }

    [Theory]
    [InlineData("=1+1")]
    [InlineData("+49")]
    [InlineData("-5")]
    [InlineData("@name")]
    [InlineData("'quoted'")]
    public void A_text_that_a_spreadsheet_would_work_out_is_guarded(string text)
    {
        var written = new CsvTable("a").Text(text);
        written.End();

        var cell = CsvText.Read(written.ToString()).Rows[1].Cells[0].Text;

        Assert.Equal('\'', cell[0]);
        Assert.Equal(text, CsvTable.Said(cell));
    }
}
