using FleetLight.Contracts;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Contracts.Facts;
using FleetLight.PageParts.Designing;
using FleetLight.Record.Calculations;
using FleetLight.Record.Designs;

namespace FleetLight.Pages.Tests.Office.Dossiers;

/// <summary>The sheet of a design, without a page around it.</summary>
public sealed class SheetTests
{
    private static CircuitDesigned Whole => Desk.Design with
    {
        Fittings =
        [
            Desk.Design.Fittings[0] with
            {
                TolerancePercent = 3, Description = "Step light", StatedMilliamps = 350, BypassDiode = true,
                Tail = new TailDesign { LengthMetres = 1.5, AreaSquareMillimetres = 0.75, ConductorClass = ConductorClass.Class5 },
            },
            Desk.Design.Fittings[1],
        ],
        Runs = [Desk.Design.Runs[0] with { Surroundings = RunSurroundings.InAir, ConductorsInLoop = 1, JointOhms = 0.02 }, .. Desk.Design.Runs.Skip(1)],
        MainsSide = true,
    };

    [Fact]
    public void A_design_stands_on_the_sheet_and_is_read_as_the_same()
    {
        var read = SheetReader.Read(SheetWriter.Of(Whole));

        Assert.Empty(read.Problems);
        Assert.Equivalent(Whole, read.Design, strict: true);
    }

    [Fact]
    public void A_draft_is_read_as_it_was_written_and_anything_else_is_none()
    {
        var began = SheetWriter.Of(Whole);
        var written = began.With(RowKind.Fitting, began.Fittings[0].Key, "ratedWatts", "about 2");
        var at = new DateTimeOffset(2026, 3, 2, 9, 5, 0, TimeSpan.Zero);

        var draft = SheetDraft.Read(SheetDraft.Write(written, began, at))!;

        Assert.Equal(SheetDraft.Text(written), SheetDraft.Text(draft.Sheet));
        Assert.Equal("about 2", draft.Sheet.Fittings[0]["ratedWatts"]);
        Assert.Equal(SheetDraft.Text(began), draft.Began);
        Assert.Equal(at, draft.At);
        var keys = draft.Sheet.Fittings.Concat(draft.Sheet.Runs).Select(row => row.Key).Append(draft.Sheet.NextKey).ToList();
        Assert.Equal(keys.Count, keys.Distinct().Count());
        foreach (var text in (string?[])[null, "", "{", "[]", "{}", "{\"sheet\":{}}", "{\"sheet\":3,\"began\":\"\"}"]) Assert.Null(SheetDraft.Read(text));
    }

    [Fact]
    public void A_file_of_designs_stands_on_sheets_that_say_the_same_as_the_file()
    {
        foreach (var text in (string[])[DesignWriter.ToCsv([Whole]), System.Text.Json.JsonSerializer.Serialize(Whole, Contracts.Wire.WireJson.Strict)])
        {
            var import = SheetImport.Of(text);

            Assert.Empty(import.Problems);
            Assert.Equivalent(Whole, SheetReader.Read(Assert.Single(import.Circuits).Sheet).Design, strict: true);
        }
    }

    [Theory]
    [InlineData("1,6", 1.6)]
    [InlineData("1.6", 1.6)]
    [InlineData("-2", -2.0)]
    [InlineData("1.000,5", null)]
    [InlineData("1,000,5", null)]
    [InlineData("1.6 W", null)]
    [InlineData("NaN", null)]
    public void Numbers_are_read_with_a_point_or_a_comma_and_never_guessed(string text, double? number) => Assert.Equal(number, SheetReader.Number(text));

    [Fact]
    public void A_mistake_stands_at_its_field_with_the_label_that_people_see()
    {
        var sheet = SheetWriter.Of(Desk.Design);
        sheet = sheet.With(RowKind.Run, sheet.Runs[1].Key, "lengthMetres", "12000").With(RowKind.Fitting, sheet.Fittings[0].Key, "ratedWatts", "much");

        var read = SheetReader.Read(sheet);

        Assert.False(read.IsSound);
        Assert.StartsWith("Length is 12000", read.At("runs[1].lengthMetres")!.Detail, StringComparison.Ordinal);
        Assert.Equal("'much' is no number.", read.At("fittings[0].ratedWatts")!.Detail);
        Assert.Equal("Run 2, length", SheetWords.Where("runs[1].lengthMetres"));
        Assert.Equal("Driver, greatest voltage", SheetWords.Where("driver.mostVolts"));
    }

    [Fact]
    public void What_is_missing_is_asked_for_and_a_tail_is_whole_or_not_at_all()
    {
        var sheet = DesignSheet.Empty("s1");
        sheet = sheet.With(RowKind.Fitting, sheet.Fittings[0].Key, "tail.lengthMetres", "1");

        string[] paths = [.. SheetReader.Read(sheet).Problems.Select(problem => problem.Path).Order(StringComparer.Ordinal)];

        Assert.Equal(
            [
                "circuitId", "driver.ratedMilliamps", "fittings[0].ratedWatts", "fittings[0].tail.areaSquareMillimetres", "fittings[0].tail.conductorClass", "name",
                "runs[0].lengthMetres",
            ],
            paths);
    }

    [Fact]
    public void Rows_move_within_their_ends_and_a_new_run_goes_on_from_the_last()
    {
        var sheet = SheetWriter.Of(Desk.Design).Add(RowKind.Fitting).Add(RowKind.Run);

        Assert.Equal(("f3", "1.6"), (sheet.Fittings[2]["fittingId"], sheet.Fittings[2]["ratedWatts"]));
        Assert.Equal(("f2", "f3", "1.5"), (sheet.Runs[3]["from"], sheet.Runs[3]["to"], sheet.Runs[3]["areaSquareMillimetres"]));
        Assert.Same(sheet, sheet.Move(RowKind.Run, sheet.Runs[0].Key, -1));
        Assert.Equal("f3", sheet.Move(RowKind.Fitting, sheet.Fittings[2].Key, -9).Fittings[0]["fittingId"]);
        Assert.Equal(2, sheet.Remove(RowKind.Fitting, sheet.Fittings[1].Key).Fittings.Count);
    }

    [Fact]
    public void Live_figures_are_those_of_the_calculation_and_a_pulled_cable_counts_with_its_length()
    {
        var live = LiveExpectation.Of(Desk.Design);
        var asked = CalculateExpected.Answer(new ExpectedRequest
        {
            Circuit = new CircuitInput
            {
                Drive = DriveKind.ConstantCurrent,
                Driver = new DriverInput { RatedMilliamps = 350, LeastVolts = 3, MostVolts = 36, MostWatts = 12, OpenCircuitVolts = 42 },
                Fittings = [.. Desk.Design.Fittings.Select(fitting => new FittingInput { FittingId = fitting.FittingId, RatedWatts = fitting.RatedWatts })],
                Runs =
                [
                    .. Desk.Design.Runs.Select(run => new RunInput
                    {
                        RunId = run.RunId, From = run.From, To = run.To,
                        LengthMetres = run.LengthMetres, AreaSquareMillimetres = run.AreaSquareMillimetres, ConductorClass = run.ConductorClass,
                    }),
                ],
            },
        });

        Assert.Equal(asked.Answer!.Expected!.DriverVoltsDc.Value, live.Answer!.Expected!.DriverVoltsDc.Value);
        var longer = LiveExpectation.Of(
            Desk.Design, cables:
            [
                new()
                {
                    Id = "c1", LengthMetres = 60, AreaSquareMillimetres = 1.5, ConductorClass = ConductorClass.Class5, PulledAt = Desk.On(4),
                    DuctIds = [], Cores = [], SpareCores = 0, WaitingFor = [], Contradictions = [], Findings = [], Facts = [],
                },
            ]);
        Assert.True(longer.Answer!.Expected!.DriverVoltsDc.Value > live.Answer.Expected.DriverVoltsDc.Value);
    }
}
