using System.Text;
using System.Text.Json;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Checks;
using FleetLight.Record.Designs;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Designs;

public sealed class DesignFileTests
{
    private const string Header = "Row,Circuit,Id,Site,Name,Drive,Rated current (mA),Rated voltage (V),Rated power (W),From,To,Length (m),Area (mm2),Conductor class";

    private const string Sound = Header + """

        circuit,k1,,s1,Steps,constant-current,350,,,,,,,
        fitting,k1,f1,,,,,,1.6,,,,,
        run,k1,r1,,,,,,,driver,f1,24,1.5,class5

        """;

    [Fact]
    public void A_sound_file_is_read()
    {
        var read = DesignReader.OfCsv(Sound);

        Assert.Empty(read.Problems);
        var design = Assert.Single(read.Designs);
        Assert.Equal(("k1", "s1", "Steps", DriveKind.ConstantCurrent, 350, false), (
            design.CircuitId, design.SiteId, design.Name, design.Drive, design.Driver.RatedMilliamps, design.MainsSide));
        Assert.Equal(new FittingDesign { FittingId = "f1", RatedWatts = 1.6 }, Assert.Single(design.Fittings));
        Assert.Equal(CircuitFacts.Run("r1", "driver", "f1", 24), Assert.Single(design.Runs));
    }

    // Any design that the service would take, with every member at every edge, several in one file.
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void What_is_written_is_read_again_exactly(int seed)
    {
        var dice = new Dice(seed);
        var round = 0;
        while (round < 300)
        {
            CircuitDesigned[] designs = [.. Enumerable.Range(0, 1 + dice.Below(3)).Select(i => AnyDesign(dice) with { CircuitId = $"k{i}" })];
            if (designs.Any(design => FactCheck.Check(design).Count > 0)) continue;
            round++;

            var read = DesignReader.OfCsv(DesignWriter.ToCsv(designs));

            Assert.Empty(read.Problems);
            Assert.Equal(Json(designs), Json(read.Designs));
            Assert.Equal(Json(designs), Json(DesignJson.Read(Encoding.UTF8.GetBytes(Json(designs))).Designs));
        }
    }

    [Theory]
    [InlineData(';', "\n")]
    [InlineData('\t', "\r\n")]
    public void A_file_of_an_office_with_decimal_commas_is_read(char separator, string lineBreak)
    {
        var text = "\uFEFF" + Sound.Replace(',', separator).Replace("1.5", "1,5", StringComparison.Ordinal).Replace("1.6", "1,6", StringComparison.Ordinal)
            .Replace("(mm2)", "(mm²)", StringComparison.Ordinal).ReplaceLineEndings(lineBreak);

        var read = DesignReader.OfCsv(text);

        Assert.Empty(read.Problems);
        Assert.Equal((1.6, 1.5), (read.Designs[0].Fittings[0].RatedWatts, read.Designs[0].Runs[0].AreaSquareMillimetres));
    }

    [Fact]
    public void An_old_programs_alphabet_is_read()
    {
        var text = Sound.Replace("Steps", "Höhe", StringComparison.Ordinal).Replace("(mm2)", "(mm²)", StringComparison.Ordinal);

        Assert.Equal("Höhe", Assert.Single(DesignReader.OfCsv(Encoding.Latin1.GetBytes(text)).Designs).Name);
    }

    [Fact]
    public void Rows_of_several_circuits_may_stand_in_any_order()
    {
        var other = CircuitFacts.Designed("k2", name: "Path; \"upper\", =1");
        var rows = DesignWriter.ToCsv([DesignReader.OfCsv(Sound).Designs[0], other]).Split("\r\n", StringSplitOptions.RemoveEmptyEntries);
        // The order of the fittings and runs of a circuit says something; where the circuits' rows stand does not.
        string[] mixed = [rows[0], .. rows.Skip(1).Where((_, i) => i % 2 == 1), .. rows.Skip(1).Where((_, i) => i % 2 == 0)];

        var read = DesignReader.OfCsv(string.Join('\n', mixed));

        Assert.Empty(read.Problems);
        Assert.Equal(["k1", "k2"], read.Designs.Select(design => design.CircuitId).Order());
        Assert.Equal("Path; \"upper\", =1", read.Designs.Single(design => design.CircuitId == "k2").Name);
    }

    [Theory]
    [InlineData("\0", 3_000_000)]
    [InlineData("x\n", 1_000_000)]
    [InlineData(",", 3_000_000)]
    [InlineData("x,", 1_000_000)]
    [InlineData("\"\n", 1_000_000)]
    [InlineData("(", 3_000_000)]
    public async Task Whatever_a_file_holds_it_is_answered_in_short_and_soon(string piece, int times)
    {
        var text = string.Concat(Enumerable.Repeat(piece, times));

        // It takes about a second; what grows with the square of the length would take hours.
        var read = await Task.Run(() => DesignReader.OfCsv(text), TestContext.Current.CancellationToken)
            .WaitAsync(TimeSpan.FromSeconds(60), TestContext.Current.CancellationToken);

        Assert.InRange(read.Problems.Count, 1, DesignReader.MostProblems + 1);
        Assert.All(read.Problems, problem => Assert.InRange($"{problem.Column}{problem.Detail}{problem.Remedy}".Length, 1, 3000));
    }

    [Fact]
    public void All_mistakes_are_named_at_once_each_with_its_cell()
    {
        var problems = DesignReader.OfCsv(Header + """

            circuit,k1,,s1,Steps,constant-curent,350,,,,,,,
            fitting,k1,f1,,,,,,1.6 W,,,,,
            fitting,k1,f1,,,,,,900,,,,,
            run,k1,r1,,,,,,,driver,f1,12000,1.5,class9
            run,k1,,,,,,,,driver,f1,,1.5,class5
            lamp,k1,f3,,,,,,2,,,,,
            fitting,k9,f1,,,,,,1,,,,,
            """).Problems;

        Assert.Equal(
            [
                (2, "Drive"), (3, "Rated power (W)"), (4, "Id"), (4, "Rated power (W)"), (5, "Length (m)"), (5, "Conductor class"), (6, "Id"), (6, "Length (m)"),
                (7, "Row"), (8, "Circuit"),
            ],
            problems.Select(problem => (problem.Row!.Value, problem.Column!)));
        Assert.All(problems, problem => Assert.True(problem.Detail.Length > 0 && problem.Remedy.Length > 0));
        Assert.Contains("constant-current", problems[0].Remedy, StringComparison.Ordinal);
        Assert.Contains("12000", problems[4].Detail, StringComparison.Ordinal);
        Assert.Contains("5000 m", problems[4].Remedy, StringComparison.Ordinal);
    }

    [Fact]
    public void A_circuit_without_a_mistake_is_read_beside_one_with_some()
    {
        var read = DesignReader.OfCsv(Sound + "circuit,k2,,s1,Pond,constant-voltage,,,,,,,,\nfitting,k2,f1,,,,,,1,,,,,\n");

        Assert.Equal("k1", Assert.Single(read.Designs).CircuitId);
        var problem = Assert.Single(read.Problems);
        Assert.Equal((5, "Rated voltage (V)", "k2"), (problem.Row, problem.Column, problem.CircuitId));
    }

    [Theory]
    [InlineData("Length (m)", "Length (ft)", "Length (ft)", "unit")]
    [InlineData("Length (m)", "Length", "Length", "unit")]
    [InlineData("Length (m)", "Lenght (m)", "Lenght (m)", "no such column")]
    [InlineData("Length (m)", "Rated power (W)", "Rated power (W)", "twice")]
    public void A_header_that_is_wrong_is_named(string right, string wrong, string column, string says)
    {
        var problems = DesignReader.OfCsv(Sound.Replace(right, wrong, StringComparison.Ordinal)).Problems;

        Assert.Contains(problems, problem => problem.Row == 1 && problem.Column == column && problem.Detail.Contains(says, StringComparison.Ordinal));
    }

    [Fact]
    public void A_column_that_is_missing_is_said_once()
    {
        var problem = Assert.Single(DesignReader.OfCsv(Sound.Replace("Conductor class", "", StringComparison.Ordinal).Replace("class5", "", StringComparison.Ordinal)).Problems);

        Assert.Equal((1, "Conductor class"), (problem.Row, problem.Column));
    }

    [Theory]
    [InlineData("\"1,5\"")]
    [InlineData("\"1.234,5\"")]
    [InlineData("1.5m")]
    [InlineData("one")]
    [InlineData("NaN")]
    [InlineData("1e999")]
    public void A_number_that_may_mean_two_or_none_is_refused(string number)
    {
        var problem = Assert.Single(DesignReader.OfCsv(Sound.Replace(",1.5,", $",{number},", StringComparison.Ordinal)).Problems);

        Assert.Equal((4, "Area (mm2)"), (problem.Row, problem.Column));
    }

    [Fact]
    public void Point_and_decimal_comma_in_one_file_are_refused()
    {
        var text = Sound.Replace(',', ';').Replace("1.5", "1,5", StringComparison.Ordinal);

        Assert.Equal("Rated power (W)", Assert.Single(DesignReader.OfCsv(text).Problems).Column);
    }

    [Fact]
    public void What_belongs_on_another_row_is_refused()
    {
        var problem = Assert.Single(DesignReader.OfCsv(Sound.Replace("f1,,,,,,1.6,,", "f1,,,,,,1.6,driver,", StringComparison.Ordinal)).Problems);

        Assert.Equal((3, "From"), (problem.Row, problem.Column));
    }

    [Fact]
    public void A_tail_is_given_whole_or_not_at_all()
    {
        var problems = DesignReader.OfCsv(Sound.Replace("1.6,,,,,", "1.6,,,2.5,,", StringComparison.Ordinal)).Problems;

        Assert.Equal([(3, "Area (mm2)"), (3, "Conductor class")], problems.Select(problem => (problem.Row!.Value, problem.Column!)));
    }

    [Theory]
    [InlineData("")]
    [InlineData("\n\n")]
    [InlineData(Header)]
    public void A_file_with_nothing_in_it_says_so(string text) => Assert.NotEmpty(DesignReader.OfCsv(text).Problems);

    // Whatever cells say, the answer is designs or problems, and every circuit named is one or the other.
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public void A_spoilt_file_is_never_taken_for_sound(int seed)
    {
        var dice = new Dice(seed);
        string[] spoilt = ["", "x", "-1", "0", "1e9", "1,5", "\"", "driver", "yes", "circuit", "run", "\"a\nb\"", "=1", ";", "class5", "k2", new string('n', 500)];
        var named = 0;
        for (var round = 0; round < 3000; round++)
        {
            var rows = Sound.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(row => row.Trim().Split(',')).ToArray();
            var row = dice.Of(rows);
            row[dice.Below(row.Length)] = dice.Of(spoilt);
            var text = string.Join('\n', rows.Select(cells => string.Join(',', cells)));

            var read = DesignReader.OfCsv(text);

            if (read.Problems.Count > 0) named++;
            Assert.All(read.Designs, design => Assert.Empty(FactCheck.Check(design)));
            Assert.All(read.Designs, design => Assert.Equal(Json([design]), Json(DesignReader.OfCsv(DesignWriter.ToCsv([design])).Designs)));
            Assert.True(read.Designs.Count + read.Problems.Count > 0);
        }

        Assert.True(named > 1000);
    }

    [Theory]
    [InlineData("{", "JSON")]
    [InlineData("[]", "no design")]
    [InlineData("null", "null")]
    [InlineData("[{\"circuitId\":\"k\"}]", "missing")]
    [InlineData("7", "kind")]
    public void JSON_that_is_wrong_is_named(string text, string says) => Assert.Contains(
        says, Assert.Single(DesignJson.Read(Encoding.UTF8.GetBytes(text)).Problems).Detail, StringComparison.Ordinal);

    [Fact]
    public void All_mistakes_of_JSON_are_named_with_their_member()
    {
        var good = CircuitFacts.Designed();
        var bad = good with { CircuitId = "k2", Fittings = [CircuitFacts.Fitting("F1", 900)], Runs = [CircuitFacts.Run("r", "driver", "driver")] };

        var read = DesignJson.Read(Encoding.UTF8.GetBytes(Json([good, bad])));

        Assert.Equal(good.CircuitId, Assert.Single(read.Designs).CircuitId);
        Assert.Equal(["[1].fittings[0].ratedWatts", "[1].runs[0].to"], read.Problems.Select(problem => problem.Field).Order(StringComparer.Ordinal));
        Assert.All(read.Problems, problem => Assert.Equal("k2", problem.CircuitId));
    }

    [Fact]
    public void A_circuit_that_stands_twice_in_JSON_is_refused() => Assert.Equal(
        Facts.Circuit, Assert.Single(DesignJson.Read(Encoding.UTF8.GetBytes(Json([CircuitFacts.Designed(), CircuitFacts.Designed()]))).Problems).CircuitId);

    [Fact]
    public void The_design_that_is_recorded_is_the_newest_that_counts()
    {
        var job = new Job();
        job.Tells(CircuitFacts.Designed(name: "First"));
        var second = job.TellsOne(CircuitFacts.Designed(name: "Second"));
        Assert.Equal("Second", Recorded(job)!.Name);

        job.Tells(Facts.Withdrawn(second));

        Assert.Equal("First", Recorded(job)!.Name);
        Assert.Null(Recorded(Job.Of(CircuitFacts.Connected())));
    }

    private static CircuitDesigned? Recorded(Job job) => RecordedDesign.Of(job.Works.InMemory.FileOf(new ThingRef(ThingKind.Circuit, Facts.Circuit)));

    // Texts are drawn here: those of the generator are ids.
    private static CircuitDesigned AnyDesign(Dice dice)
    {
        string[] texts = ["Steps", " a b ", "Höhe; \"x\", y", "=SUM(A1)", "'x", "-", "1,5", "\uFEFFx", "sep=;", "yes"];
        var any = (CircuitDesigned)AnyFact.Of(typeof(CircuitDesigned), dice);
        return any with
        {
            Name = dice.Of(texts),
            Fittings =
            [
                .. any.Fittings.Select((fitting, i) => fitting with
                {
                    FittingId = $"f{i}",
                    Description = dice.Is() ? dice.Of(texts) : null,
                    RatedWatts = 0.05 + (dice.Below(1_000_000) / 7919.0),
                }),
            ],
            Runs = [.. any.Runs.Select((run, i) => run with { RunId = $"r{i}", ConductorsInLoop = dice.Is() ? 1 + dice.Below(2) : null })],
        };
    }

    private static string Json(IReadOnlyList<CircuitDesigned> designs) => JsonSerializer.Serialize(designs, WireJson.Strict);
}
