using System.Text.Json;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Checks;
using FleetLight.Record.Tests.Works;
using FsCheck;
using FsCheck.Xunit;

namespace FleetLight.Record.Tests.Checks;

/// <summary>Every member against its contract.</summary>
public sealed class FactCheckTests
{
    [Fact]
    public void A_number_outside_its_range_says_the_unit_and_the_range()
    {
        var problem = Assert.Single(FactCheck.Check(Facts.DuctLaid(length: 9000)));

        Assert.Equal("data.lengthMetres", problem.Field);
        Assert.Equal(FactProblemKind.OutOfRange, problem.Kind);
        Assert.Equal("lengthMetres is 9000; 0.1 to 2000 m is accepted.", problem.Detail);
        Assert.Contains("unit", problem.Remedy, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0.1, true)]
    [InlineData(2000, true)]
    [InlineData(0.0999, false)]
    [InlineData(2000.001, false)]
    [InlineData(-1, false)]
    [InlineData(1e300, false)]
    public void The_ends_of_a_range_belong_to_it(double metres, bool sound) =>
        Assert.Equal(sound, FactCheck.Check(Facts.DuctLaid(length: metres)).Count == 0);

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    [InlineData(double.NegativeInfinity)]
    public void What_is_no_finite_number_is_invalid(double value) =>
        Is(FactCheck.Check(CircuitFacts.Reading(value)), "data.value", FactProblemKind.Invalid);

    [Fact]
    public void Members_of_lists_are_named_by_their_place() =>
        Is(
            FactCheck.Check(CircuitFacts.Designed(runs:
                [CircuitFacts.Run("R1", "driver", "F1"), CircuitFacts.Run("R2", "F1", "F2"), CircuitFacts.Run("R3", "F2", "F1", 0)])),
            "data.runs[2].lengthMetres", FactProblemKind.OutOfRange);

    [Fact]
    public void Members_of_records_within_records_are_named_by_their_path() =>
        Is(
            FactCheck.Check(CircuitFacts.Designed(driver: CircuitFacts.Driver(open: 601))),
            "data.driver.openCircuitVolts", FactProblemKind.OutOfRange);

    [Theory]
    [InlineData("")]
    [InlineData(" ")]
    [InlineData("-a")]
    [InlineData("a b")]
    [InlineData("ä")]
    [InlineData("a\n")]
    [InlineData("a/b")]
    public void An_identifier_follows_its_pattern(string id) =>
        Is(FactCheck.Check(Facts.DuctLaid(ductId: id)), "data.ductId", FactProblemKind.Invalid);

    [Theory]
    [InlineData("a")]
    [InlineData("A.b_c:d-9")]
    [InlineData("7")]
    public void Sound_identifiers_pass(string id) => Assert.Empty(FactCheck.Check(Facts.DuctLaid(ductId: id)));

    [Property]
    public void Identifiers_are_checked_as_their_pattern_says(string? text)
    {
        var id = text ?? "";
        var matches = System.Text.RegularExpressions.Regex.IsMatch(id, ThingIdAttribute.Pattern) && !id.EndsWith('\n');

        Assert.Equal(matches, FactCheck.Check(Facts.DuctLaid(ductId: id)).Count == 0);
    }

    [Fact]
    public void Identifiers_have_at_most_64_characters()
    {
        Assert.Empty(FactCheck.Check(Facts.DuctLaid(ductId: new string('a', 64))));
        Assert.Single(FactCheck.Check(Facts.DuctLaid(ductId: new string('a', 65))));
    }

    [Fact]
    public void An_identifier_in_a_list_is_named_by_its_place() =>
        Is(FactCheck.Check(Facts.CablePulled(ducts: ["duct-1", "duct 2"])), "data.ductIds[1]", FactProblemKind.Invalid);

    [Theory]
    [InlineData("", FactProblemKind.Invalid)]
    [InlineData("\t", FactProblemKind.Invalid)]
    [InlineData("a\u0007b", FactProblemKind.Invalid)]
    [InlineData("a\u0000b", FactProblemKind.Invalid)]
    [InlineData("a\nb", FactProblemKind.Invalid)]
    public void A_label_is_plain_text(string label, FactProblemKind kind) =>
        Is(FactCheck.Check(Facts.DuctLabelled(label: label)), "data.label", kind);

    [Fact]
    public void Half_a_surrogate_pair_is_no_text()
    {
        Is(FactCheck.Check(Facts.DuctLabelled(label: "a" + (char)0xD83D)), "data.label", FactProblemKind.Invalid);
        Assert.Empty(FactCheck.Check(Facts.DuctLabelled(label: "lamp 💡 Ω ≥")));
    }

    [Fact]
    public void A_remark_may_have_several_lines()
    {
        Assert.Empty(FactCheck.Check(CircuitFacts.Fault(what: "It flickers.\r\nAt dusk.")));
        Assert.Single(FactCheck.Check(CircuitFacts.Fault(what: "It flickers.\u001b[31m")));
    }

    [Fact]
    public void Too_long_a_text_says_how_long_it_may_be() =>
        Assert.Contains(
            "at most 80",
            Assert.Single(FactCheck.Check(Facts.DuctLabelled(label: new string('x', 81)))).Detail, StringComparison.Ordinal);

    [Fact]
    public void A_list_has_the_members_that_its_contract_allows()
    {
        Is(FactCheck.Check(Facts.CablePulled(cores: [])), "data.cores", FactProblemKind.OutOfRange);
        Is(
            FactCheck.Check(Facts.CablePulled(ducts: [.. Enumerable.Range(0, 41).Select(i => $"d{i}")])),
            "data.ductIds", FactProblemKind.OutOfRange);
    }

    [Fact]
    public void A_word_outside_its_list_is_invalid_and_the_list_is_given()
    {
        var problem = Assert.Single(FactCheck.Check(Facts.DuctLaid(colour: (DuctColour)99)));

        Assert.Equal("data.colour", problem.Field);
        Assert.Contains("orange", problem.Remedy, StringComparison.Ordinal);
        Assert.Single(FactCheck.Check(Facts.DuctLabelled(end: (RunEnd)7)));
    }

    [Fact]
    public void Nulls_where_none_may_be_are_named()
    {
        // The strict reader refuses missing members; nulls within lists come through it.
        var json = """{"siteId":"s","cableId":"c","ductIds":[null],"lengthMetres":1,"areaSquareMillimetres":1,"conductorClass":"class1","cores":[null]}""";
        var pull = JsonSerializer.Deserialize<CablePulled>(json, WireJson.Strict)!;

        Assert.Equal(["data.ductIds[0]", "data.cores[0]"], FactCheck.Check(pull).Select(problem => problem.Field));
        Is(FactCheck.Check(Facts.DuctLaid(ductId: null!)), "data.ductId", FactProblemKind.Invalid);
        Is(FactCheck.Check(CircuitFacts.Designed() with { Driver = null! }), "data.driver", FactProblemKind.Invalid);
    }

    [Fact]
    public void Every_problem_is_told_at_once() =>
        Assert.Equal(3, FactCheck.Check(Facts.DuctLaid(ductId: "", bore: 0, length: 0)).Count);

    [Property(MaxTest = 500)]
    public void Sound_facts_pass_and_come_through_the_wire_unchanged(int seed)
    {
        foreach (var fact in Histories.Make(10, seed))
        {
            var json = JsonSerializer.Serialize(fact.Data, fact.Data.GetType(), WireJson.Strict);
            var again = (IFact)JsonSerializer.Deserialize(json, fact.Data.GetType(), WireJson.Strict)!;

            if (fact.Data is not FactCorrected and not CablePulled) Assert.Empty(FactCheck.Check(again));
            Assert.Equal(json, JsonSerializer.Serialize(again, again.GetType(), WireJson.Strict));
        }
    }

    internal static void Is(IReadOnlyList<FactProblem> problems, string field, FactProblemKind kind)
    {
        var problem = Assert.Single(problems);
        Assert.Equal((field, kind), (problem.Field, problem.Kind));
        Assert.NotEmpty(problem.Detail);
        Assert.NotEmpty(problem.Remedy);
    }
}
