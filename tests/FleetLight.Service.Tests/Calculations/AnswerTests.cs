using System.Net;
using System.Text.Json.Nodes;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Calculations;

/// <summary>What is answered over HTTP is what the contract shows and describes.</summary>
public sealed class AnswerTests(FleetService service) : IClassFixture<FleetService>
{
    public static TheoryData<string> Examples => [.. WorkedExamples.Names];

    [Theory]
    [MemberData(nameof(Examples))]
    public async Task An_example_is_answered_as_it_is_shown_and_described(string name)
    {
        ApiClient reader = await ReaderAsync();
        AnswerSchemas schemas = await AnswerSchemas.ReadAsync(service.Anybody);

        Answer answer = await reader.PostAsync(WorkedExamples.PathOf(name), WorkedExamples.Request(name));

        answer.Expect(HttpStatusCode.OK);
        // The figures are held to the shown ones beside the contract; here their text, so that nothing is lost on the way.
        Assert.Equal(Names(WorkedExamples.Answer(name)), Names(answer.Json));
        schemas.Check("POST", WorkedExamples.PathOf(name), answer);
    }

    [Theory]
    [MemberData(nameof(Examples))]
    public async Task The_same_request_is_answered_alike_byte_for_byte(string name)
    {
        ApiClient reader = await ReaderAsync();

        Answer first = await reader.PostAsync(WorkedExamples.PathOf(name), WorkedExamples.Request(name));
        Answer second = await reader.PostAsync(WorkedExamples.PathOf(name), WorkedExamples.Request(name));

        Assert.Equal(first.Text, second.Text);
    }

    [Fact]
    public async Task A_key_that_reads_status_is_enough_and_nothing_recorded_is_needed()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        ApiClient reader = service.Anybody.With(await organisation.MakeKeyAsync("read-status"));

        Answer answer = await reader.PostAsync("/v1/calculations/expected", WorkedExamples.Request("expected.one-load"));

        Assert.Equal(HttpStatusCode.OK, answer.Status);
        Assert.Equal(11.099, (double)answer.Json["expected"]!["fittings"]![0]!["voltsDc"]!["value"]!, 5e-4);
    }

    [Fact]
    public async Task Every_answer_names_the_version_of_its_model()
    {
        ApiClient reader = await ReaderAsync();
        foreach (string name in WorkedExamples.Names)
        {
            Answer answer = await reader.PostAsync(WorkedExamples.PathOf(name), WorkedExamples.Request(name));
            Assert.Equal(Electrics.Expected.ModelVersion, (int)answer.Json["modelVersion"]!);
        }
    }

    [Fact]
    public async Task A_circuit_that_cannot_work_is_an_answer_and_no_problem()
    {
        ApiClient reader = await ReaderAsync();
        JsonObject weak = WorkedExamples.Request("expected.six-in-series");
        weak["circuit"]!["driver"]!["mostVolts"] = 12;
        JsonObject strong = WorkedExamples.Request("expected.six-in-series");
        (strong["circuit"]!["driver"]!["leastVolts"], strong["circuit"]!["driver"]!["mostVolts"]) = (24, 48);

        Answer beyond = await reader.PostAsync("/v1/calculations/expected", weak);
        Answer below = await reader.PostAsync("/v1/calculations/expected", strong);

        Assert.Equal(("beyond-driver", "circuit.driver.mostVolts"), NoAnswer(beyond));
        Assert.Equal(("below-driver", "circuit.driver.leastVolts"), NoAnswer(below));
    }

    [Fact]
    public async Task What_is_left_out_stands_at_its_stated_default()
    {
        ApiClient reader = await ReaderAsync();
        JsonObject silent = WorkedExamples.Request("expected.six-in-series");
        silent.Remove("assumptions");
        JsonObject spoken = WorkedExamples.Request("expected.six-in-series");
        spoken["assumptions"] = JsonNode.Parse("""
            {
              "buried": { "celsius": 15, "standardUncertaintyKelvin": 5 }, "inAir": { "celsius": 20, "standardUncertaintyKelvin": 10 },
              "warmBox": { "celsius": 50, "standardUncertaintyKelvin": 10 }, "statedTemperatureStandardUncertaintyKelvin": 2,
              "conductorBelowMaximumPercent": 7, "forwardVoltsPerKelvinPerVolt": -0.001, "fittingTemperatureStandardUncertaintyKelvin": 8,
              "led": { "logarithmicShare": 0.02614, "resistiveShare": 0.07122 }
            }
            """);
        foreach (JsonNode? fitting in spoken["circuit"]!["fittings"]!.AsArray()) fitting!["tolerancePercent"] = 5;
        JsonNode run = spoken["circuit"]!["runs"]![0]!;
        (run["lengthTolerancePercent"], run["surroundings"], run["conductorsInLoop"], run["jointOhms"]) = (5, "buried", 2, 0);
        spoken["partBudgets"] = false;

        Answer first = await reader.PostAsync("/v1/calculations/expected", silent);
        Answer second = await reader.PostAsync("/v1/calculations/expected", spoken);

        Assert.Equal(first.Expect(HttpStatusCode.OK).Text, second.Text);
    }

    [Fact]
    public async Task Budgets_of_the_parts_come_where_they_are_asked_for()
    {
        ApiClient reader = await ReaderAsync();
        JsonObject asked = WorkedExamples.Request("expected.one-load");
        asked["partBudgets"] = true;

        JsonNode expected = (await reader.PostAsync("/v1/calculations/expected", asked)).Json["expected"]!;
        JsonNode volts = expected["fittings"]![0]!["voltsDc"]!;

        double variance = volts["budget"]!.AsArray().Sum(line => Math.Pow((double)line!["standardUncertainty"]!, 2));
        Assert.Equal((double)volts["standardUncertainty"]!, Math.Sqrt(variance), 1e-9);
    }

    [Fact]
    public async Task The_same_seed_gives_the_same_simulation_and_another_one_another()
    {
        ApiClient reader = await ReaderAsync();
        JsonObject asked = WorkedExamples.Request("expected.simulated");

        Answer first = await reader.PostAsync("/v1/calculations/expected", asked);
        Answer again = await reader.PostAsync("/v1/calculations/expected", asked);
        asked["simulation"]!["seed"] = 8;
        Answer other = await reader.PostAsync("/v1/calculations/expected", asked);

        Assert.Equal(first.Expect(HttpStatusCode.OK).Text, again.Text);
        Assert.NotEqual(first.Text, other.Expect(HttpStatusCode.OK).Text);
    }

    [Fact]
    public async Task A_circuit_that_cannot_work_is_neither_diagnosed_nor_measured()
    {
        ApiClient reader = await ReaderAsync();
        JsonObject asked = WorkedExamples.Request("expected.collapse");
        asked["readings"] = new JsonArray();

        JsonNode diagnosis = (await reader.PostAsync("/v1/calculations/diagnosis", asked)).Expect(HttpStatusCode.OK).Json;
        JsonNode next = (await reader.PostAsync("/v1/calculations/next-measurement", asked)).Expect(HttpStatusCode.OK).Json;
        JsonNode verdict = (await reader.PostAsync("/v1/calculations/verdict", WithReading(asked))).Expect(HttpStatusCode.OK).Json;

        Assert.All([diagnosis, next, verdict], answer => Assert.Equal("voltage-collapse", (string)answer["noAnswer"]!["reason"]!));
        Assert.Null(diagnosis["diagnosis"]);
        Assert.Equal("nothing-known", (string)next["stop"]!["reason"]!);
        Assert.Empty(verdict["verdicts"]!.AsArray());
    }

    [Fact]
    public async Task The_charts_of_a_drift_come_where_they_are_asked_for()
    {
        ApiClient reader = await ReaderAsync();
        JsonObject asked = WorkedExamples.Request("drift.slow-rise");
        asked["chart"] = true;
        AnswerSchemas schemas = await AnswerSchemas.ReadAsync(service.Anybody);

        Answer answer = await reader.PostAsync("/v1/calculations/drift", asked);

        schemas.Check("POST", "/v1/calculations/drift", answer);
        Assert.Equal(10, answer.Json["finding"]!["chart"]!["points"]!.AsArray().Count);
    }

    [Fact]
    public async Task Too_few_visits_are_an_answer_and_no_problem()
    {
        ApiClient reader = await ReaderAsync();
        JsonObject asked = WorkedExamples.Request("drift.slow-rise");
        while (asked["readings"]!.AsArray().Count > 3) asked["readings"]!.AsArray().RemoveAt(0);
        AnswerSchemas schemas = await AnswerSchemas.ReadAsync(service.Anybody);

        Answer answer = await reader.PostAsync("/v1/calculations/drift", asked);

        schemas.Check("POST", "/v1/calculations/drift", answer);
        Assert.Equal(("too-few-visits", 3), ((string)answer.Json["cannotTell"]!["reason"]!, (int)answer.Json["cannotTell"]!["visits"]!));
    }

    [Fact]
    public async Task Risks_that_are_asked_for_are_the_ones_judged_by()
    {
        ApiClient reader = await ReaderAsync();
        JsonObject asked = WorkedExamples.Request("verdict.one-load");
        asked["readings"] = JsonNode.Parse("""[{ "place": "f1", "quantity": "volts-dc", "value": 10.7 }]""");

        JsonNode usual = (await reader.PostAsync("/v1/calculations/verdict", asked)).Json["verdicts"]![0]!;
        asked["rule"] = JsonNode.Parse("""{ "falseAlarmPercent": 10, "asDesignedPercent": 50 }""");
        JsonNode strict = (await reader.PostAsync("/v1/calculations/verdict", asked)).Json["verdicts"]![0]!;

        Assert.Equal(("doubtful", 0.3), ((string)usual["verdict"]!, Math.Round((double)usual["falseAlarmPercent"]!, 9)));
        Assert.Equal(("outside", 10), ((string)strict["verdict"]!, Math.Round((double)strict["falseAlarmPercent"]!, 9)));
        Assert.True((double)strict["asDesignedPercent"]! < (double)usual["asDesignedPercent"]!);
    }

    private static JsonObject WithReading(JsonObject request)
    {
        request["readings"] = JsonNode.Parse("""[{ "place": "driver", "quantity": "volts-dc", "value": 12 }]""");
        return request;
    }

    private static (string Reason, string Field) NoAnswer(Answer answer)
    {
        JsonNode json = answer.Expect(HttpStatusCode.OK).Json;
        Assert.Null(json["expected"]);
        return ((string)json["noAnswer"]!["reason"]!, (string)json["noAnswer"]!["field"]!);
    }

    // The members of an answer by their paths, with what is no number.
    private static List<string> Names(JsonNode node, string path = "") => node switch
    {
        JsonObject members => [.. members.SelectMany(member => Names(member.Value!, $"{path}.{member.Key}"))],
        JsonArray members => [.. members.SelectMany((member, index) => Names(member!, $"{path}[{index}]"))],
        _ => [node.GetValueKind() == System.Text.Json.JsonValueKind.Number ? path : $"{path}: {node.ToJsonString()}"],
    };

    private async Task<ApiClient> ReaderAsync() => (await service.AddOrganisationAsync()).Office;
}
