using System.Net;
using System.Text.Json.Nodes;
using FleetLight.Contracts.Calculations;
using FleetLight.Service.Tests.Approvals;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Calculations;

/// <summary>What a request gets wrong is a problem that names the member at fault.</summary>
public sealed class BadRequestTests(FleetService service) : IClassFixture<FleetService>
{
    private const string Expected = "expected.one-load";
    private const string Series = "expected.six-in-series";
    private const string Verdict = "verdict.one-load";
    private const string More = "headroom.two-more";
    private const string Longest = "headroom.longest-run";
    private const string Fill = "duct-fill.three-cables";
    private const string Pull = "duct-pull.one-bend";
    private const string Simulated = "expected.simulated";
    private const string Diagnosis = "diagnosis.one-passed-by";
    private const string Next = "next-measurement.which-one";
    private const string Drift = "drift.slow-rise";

    private static readonly Dictionary<string, (string Example, Action<JsonObject> Spoil)> Cases = new(StringComparer.Ordinal)
    {
        ["no driver"] = (Expected, request => Of(request, "circuit").Remove("driver")),
        ["no circuit"] = (Expected, request => request.Remove("circuit")),
        ["an unknown member"] = (Expected, request => Of(request, "circuit")["phase"] = 1),
        ["an unknown word"] = (Expected, request => Of(request, "circuit")["drive"] = "alternating"),
        ["a text for a number"] = (Expected, request => Of(request, "circuit", "driver")["ratedVolts"] = "12"),
        ["a driver without its volts"] = (Expected, request => Of(request, "circuit", "driver").Remove("ratedVolts")),
        ["a driver without its milliamps"] = (Series, request => Of(request, "circuit", "driver").Remove("ratedMilliamps")),
        ["a window upside down"] = (Series, request => Of(request, "circuit", "driver")["leastVolts"] = 40),
        ["a tolerance of 100 %"] = (Expected, request => Of(request, "circuit", "driver")["tolerancePercent"] = 100),
        ["no fittings"] = (Expected, request => Of(request, "circuit")["fittings"] = new JsonArray()),
        ["a fitting that is null"] = (Expected, request => Of(request, "circuit")["fittings"] = new JsonArray((JsonNode?)null)),
        ["no watts"] = (Expected, request => Of(request, "circuit", "fittings", "0")["ratedWatts"] = 0),
        ["a number beyond all numbers"] = (Expected, request => Of(request, "circuit", "fittings", "0")["ratedWatts"] = JsonNode.Parse("1e999")),
        ["an id that is none"] = (Expected, request => Of(request, "circuit", "fittings", "0")["fittingId"] = "a b"),
        ["a fitting called driver"] = (Series, request => Of(request, "circuit", "fittings", "0")["fittingId"] = "driver"),
        ["two fittings of one id"] = (Series, request => Of(request, "circuit", "fittings", "1")["fittingId"] = "f1"),
        ["two runs of one id"] = (Expected, request =>
            request["circuit"]!["runs"]!.AsArray().Add(request["circuit"]!["runs"]![0]!.DeepClone())),
        ["a run that ends where it starts"] = (Expected, request => Of(request, "circuit", "runs", "0")["to"] = "driver"),
        ["an area of no standard"] = (Expected, request => Of(request, "circuit", "runs", "0")["areaSquareMillimetres"] = 2),
        ["three conductors in the loop"] = (Expected, request => Of(request, "circuit", "runs", "0")["conductorsInLoop"] = 3),
        ["a fitting that no run leads to"] = (Expected, request => Of(request, "circuit", "runs", "0")["to"] = "f2"),
        ["runs that do not reach the driver"] = (Expected, request => Of(request, "circuit", "runs", "0")["from"] = "f2"),
        ["a soil that boils"] = (Expected, request => Of(request, "assumptions", "buried")["celsius"] = 400),
        ["a share above 1"] = (Expected, request =>
            request["assumptions"]!["led"] = new JsonObject { ["logarithmicShare"] = 0, ["resistiveShare"] = 2 }),
        ["no readings"] = (Verdict, request => request["readings"] = new JsonArray()),
        ["a reading of nothing"] = (Verdict, request => Of(request, "readings", "0")["quantity"] = "lux"),
        ["a meter of no range"] = (Verdict, request => Of(request, "readings", "1", "meter")["resolution"] = 0),
        ["a risk of nothing"] = (Verdict, request => request["rule"] = new JsonObject { ["falseAlarmPercent"] = 0 }),
        ["nothing to add"] = (More, request => request["add"] = new JsonArray()),
        ["an added fitting of a known id"] = (More, request => Of(request, "add", "1")["fittingId"] = "f1"),
        ["a fitting that was there twice"] = (More, request => Of(request, "circuit", "fittings", "2")["fittingId"] = "f1"),
        ["a place that is none"] = (More, request => Of(request, "where")["place"] = "nowhere"),
        ["spare cores of no run"] = (More, request => Of(request, "where")["spareRunIds"] = new JsonArray("nowhere")),
        ["a count of spare cores of no run"] = (More, request =>
            request["spareCores"] = new JsonArray(new JsonObject { ["runId"] = "nowhere", ["count"] = 1 })),
        ["a new run of no standard area"] = (Longest, request => Of(request, "where", "newRun")["areaSquareMillimetres"] = 3),
        ["a margin of 100 %"] = (More, request => request["limits"] = new JsonObject { ["marginPercent"] = 100 }),
        ["a wattage of nothing in the catalogue"] = (More, request =>
            request["limits"] = new JsonObject { ["catalogueWatts"] = new JsonArray(1, 0) }),
        ["an old run of no standard area"] = (More, request => Of(request, "circuit", "runs", "0")["areaSquareMillimetres"] = 3),
        ["an added fitting that cannot be"] = (More, request => Of(request, "add", "1")["tolerancePercent"] = 200),
        ["a driver to add to without its milliamps"] = (More, request => Of(request, "circuit", "driver").Remove("ratedMilliamps")),
        ["a duct without a bore"] = (Fill, request => request["boreMillimetres"] = 0),
        ["more cables than a duct takes"] = (Fill, request => request["cables"]!.AsArray().Add(
            new JsonObject { ["outsideDiameterMillimetres"] = 5, ["count"] = 999 })),
        ["one more cable than a duct takes"] = (Fill, request => Of(request, "cables", "0")["count"] = 1000),
        ["an armoured cable of no diameter"] = (Pull, request => (Of(request, "cable")["grip"], Of(request, "cable")["armour"]) = ("basket", "steel-wire")),
        ["a sidewall force of nothing"] = (Pull, request => request["mostSidewallNewtonsPerMetre"] = 0),
        ["too few trials"] = (Simulated, request => Of(request, "simulation")["mostTrials"] = 1000),
        ["a simulation that is not asked for"] = (Simulated, request => request.Remove("method")),
        ["a circuit too large to simulate"] = (Simulated, request => Lengthen(request, CalculationLimits.MostPartsSimulated)),
        ["a circuit too large to diagnose"] = (Diagnosis, request => Lengthen(request, CalculationLimits.MostPartsDiagnosed)),
        ["a circuit too large to measure on"] = (Next, request => Lengthen(request, CalculationLimits.MostPartsDiagnosed)),
        ["a prior above 1"] = (Diagnosis, request => request["lookFor"] = JsonNode.Parse("""{ "priors": [{ "fault": "open-loop", "prior": 2 }] }""")),
        ["a prior of no known fault"] = (Diagnosis, request => request["lookFor"] = JsonNode.Parse("""{ "priors": [{ "fault": "mice", "prior": 0.1 }] }""")),
        ["a place that cannot be reached"] = (Next, request => request["places"] = JsonNode.Parse("""[{ "place": "f1", "access": "by-air" }]""")),
        ["an effort below nothing"] = (Next, request => request["effort"] = new JsonObject { ["digMinutes"] = -1 }),
        ["enough of nothing"] = (Next, request => request["enoughPercent"] = 50),
        ["drift of light"] = (Drift, request => request["quantity"] = "fitting-lit"),
        ["a reading at no time"] = (Drift, request => Of(request, "readings", "0")["at"] = "yesterday"),
        ["a meter without a resolution"] = (Drift, request => Of(request, "readings", "0", "meter").Remove("resolution")),
        ["fewer visits than can be told from"] = (Drift, request => request["options"] = new JsonObject { ["leastVisits"] = 2 }),
        ["half a cable"] = (Fill, request => Of(request, "cables", "0")["count"] = 0.5),
        ["a bend without a radius"] = (Pull, request => Of(request, "route", "0").Remove("bendRadiusMetres")),
        ["no route"] = (Pull, request => request["route"] = new JsonArray()),
        ["a route that no force is enough for"] = (Pull, request =>
        {
            request["friction"] = 2;
            request["route"] = new JsonArray([.. Enumerable.Range(0, 200).Select(_ => new JsonObject
            {
                ["lengthMetres"] = 1, ["bendDegrees"] = 360, ["bendRadiusMetres"] = 1,
            })]);
        }
        ),
    };

    public static TheoryData<string> Names => [.. Cases.Keys];

    [Theory]
    [MemberData(nameof(Names))]
    public async Task Each_names_the_member_at_fault(string name)
    {
        (string example, Action<JsonObject> spoil) = Cases[name];
        JsonObject request = WorkedExamples.Request(example);
        spoil(request);
        ApiClient reader = (await service.AddOrganisationAsync()).Office;

        Answer answer = await reader.PostAsync(WorkedExamples.PathOf(example), request.ToJsonString(), "application/json");

        Assert.Equal(HttpStatusCode.BadRequest, answer.Status);
        Approved.Same("BadRequests", name, answer);
        (await AnswerSchemas.ReadAsync(service.Anybody)).Check("POST", WorkedExamples.PathOf(example), answer);
    }

    [Theory]
    [InlineData("an empty body", "")]
    [InlineData("null", "null")]
    [InlineData("a list", "[]")]
    [InlineData("a cut body", "{\"circuit\": {")]
    [InlineData("a member twice", "{\"partBudgets\": true, \"partBudgets\": true}")]
    [InlineData("not a number", "{\"boreMillimetres\": NaN}")]
    public async Task A_body_that_is_no_request_is_a_problem(string name, string body)
    {
        ApiClient reader = (await service.AddOrganisationAsync()).Office;

        Answer answer = await reader.PostAsync("/v1/calculations/expected", body, "application/json");

        Assert.Equal(HttpStatusCode.BadRequest, answer.Status);
        Approved.Same("BadRequests", name, answer);
    }

    [Theory]
    [InlineData("text/plain")]
    [InlineData("application/xml")]
    public async Task A_body_of_another_kind_is_a_problem(string contentType)
    {
        ApiClient reader = (await service.AddOrganisationAsync()).Office;

        Answer answer = await reader.PostAsync("/v1/calculations/expected", "{}", contentType);

        Assert.Equal(HttpStatusCode.UnsupportedMediaType, answer.Status);
        (await AnswerSchemas.ReadAsync(service.Anybody)).Check("POST", "/v1/calculations/expected", answer);
    }

    // Fittings hung on behind the first, each on a run of its own.
    private static void Lengthen(JsonObject request, int by)
    {
        for (int i = 0; i < by; i++)
        {
            request["circuit"]!["fittings"]!.AsArray().Add(new JsonObject { ["fittingId"] = $"more{i}", ["ratedWatts"] = 0.01 });
            request["circuit"]!["runs"]!.AsArray().Add(new JsonObject
            {
                ["runId"] = $"more{i}",
                ["from"] = "f1",
                ["to"] = $"more{i}",
                ["lengthMetres"] = 1,
                ["areaSquareMillimetres"] = 1.5,
                ["conductorClass"] = "class5",
            });
        }
    }

    private static JsonObject Of(JsonNode request, params string[] path) => path.Aggregate(
        request, (node, part) => int.TryParse(part, out int index) ? node[index]! : node[part]!).AsObject();
}
