using System.Net.Http.Headers;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Calculations;

namespace FleetLight.Contracts.Tests.OpenApi;

public sealed partial class OpenApiTests(QuietService service) : IClassFixture<QuietService>, IAsyncLifetime
{
    // The one operation below /v1 without a key: it is how a device comes by one.
    private const string Exchange = "/v1/enrolments/exchange";

    private OpenApiDocument document = null!;

    public static TheoryData<string, string> FixedPaths => new()
    {
        { "post", "/v1/events" },
        { "get", "/v1/devices/self/receipts" },
        { "get", "/v1/devices/self/sites" },
        { "put", "/v1/devices/{source}/sites" },
        { "post", "/v1/devices/{source}/lost" },
        { "post", "/v1/enrolments" },
        { "post", Exchange },
        { "get", "/v1/keys/self" },
        { "post", "/v1/keys/self/rotate" },
        { "get", "/v1/audit" },
        { "get", "/v1/circuits" },
        { "get", "/v1/circuits/{id}" },
        { "get", "/v1/circuits/{id}/model" },
        { "post", "/v1/circuits/{id}/headroom" },
        { "get", "/v1/sites" },
        { "get", "/v1/sites/{id}/as-built" },
        { "get", "/v1/sites/{id}/open-points" },
        { "get", "/v1/sites/{id}/designs" },
        { "get", "/v1/sites/{id}/materials" },
        { "get", "/v1/sites/{id}/labels" },
        { "get", "/v1/sites/{id}/handover" },
        { "get", "/v1/circuits/{id}/design" },
        { "get", "/v1/circuits/{id}/materials" },
        { "post", "/v1/designs/read" },
        { "get", "/v1/alerts" },
        { "get", "/v1/changes" },
        { "get", "/v1/stream" },
        { "post", "/v1/subscriptions" },
        { "get", "/v1/subscriptions" },
        { "put", "/v1/attachments/{sha256}" },
        { "get", "/v1/attachments/{sha256}" },
        { "get", "/v1/photos" },
        { "post", "/v1/visits" },
        { "get", "/v1/visits" },
        { "get", "/v1/visits/{id}" },
        { "put", "/v1/visits/{id}" },
        { "delete", "/v1/visits/{id}" },
        { "post", "/v1/visits/{id}/done" },
        { "post", "/v1/calculations/expected" },
        { "post", "/v1/calculations/verdict" },
        { "post", "/v1/calculations/diagnosis" },
        { "post", "/v1/calculations/next-measurement" },
        { "post", "/v1/calculations/headroom" },
        { "post", "/v1/calculations/drift" },
        { "post", "/v1/calculations/duct-fill" },
        { "post", "/v1/calculations/duct-pull" },
        { "get", "/health/live" },
        { "get", "/health/ready" },
        { "get", "/metrics" },
        { "get", "/openapi/v1.json" },
        { "get", "/asyncapi.json" },
    };

    public async ValueTask InitializeAsync() => document = await OpenApiDocument.ServedBy(service);

    public ValueTask DisposeAsync() => ValueTask.CompletedTask;

    [Fact]
    public void The_document_is_the_one_approved() => Approved.Check("contracts/openapi/v1.json", Approved.Text(document.Root));

    [Fact]
    public async Task The_document_of_what_travels_as_events_is_the_one_approved() => Approved.Check(
        "contracts/asyncapi/v1.json",
        Approved.Text(JsonNode.Parse(await service.Client.GetStringAsync("/asyncapi.json", TestContext.Current.CancellationToken))!));

    [Fact]
    public void The_document_is_OpenAPI_3_1() => Assert.StartsWith("3.1.", document.Root["openapi"]!.GetValue<string>(), StringComparison.Ordinal);

    [Theory]
    [MemberData(nameof(FixedPaths))]
    public void A_path_that_others_rely_on_is_there(string method, string path) =>
        Assert.Contains(document.Operations, operation => operation.Method == method && operation.Path == path);

    [Fact]
    public void Every_operation_says_what_it_is()
    {
        Assert.Equal(document.Operations.Count, document.Operations.Select(operation => $"{operation.Described["operationId"]}").Distinct().Count());
        Assert.All(document.Operations, operation =>
        {
            Assert.NotNull(operation.Described["operationId"]);
            Assert.NotNull(operation.Described["summary"]);
            Assert.NotEmpty(operation.Described["tags"]!.AsArray());
            Assert.Contains(operation.Responses, response => response.Key[0] == '2');
            Assert.All(operation.Parameters, parameter => Assert.True(parameter["description"] is not null, $"{operation}: {parameter["name"]}"));
        });
    }

    [Fact]
    public void Every_operation_below_v1_needs_a_key_and_says_what_is_answered_without() => Assert.All(
        document.Operations.Where(operation => operation.Path.StartsWith("/v1/", StringComparison.Ordinal) && operation.Path != Exchange),
        operation =>
        {
            Assert.True(operation.NeedsKey);
            Assert.Superset(new HashSet<string> { "401", "403", "429", "500", "503" }, operation.Responses.Select(response => response.Key).ToHashSet());
        });

    [Fact]
    public void Every_fault_is_answered_with_a_problem() => Assert.All(
        document.Operations.Where(operation => operation.NeedsKey),
        operation => Assert.All(operation.Responses.Where(response => response.Key[0] is '4' or '5'), response =>
            Assert.EndsWith("/Problem", response.Value!["content"]![ProblemMedia.Type]!["schema"]!["$ref"]!.GetValue<string>(), StringComparison.Ordinal)));

    [Fact]
    public void Every_body_is_described() => Assert.All(
        document.Operations.Where(operation => operation.Described["requestBody"] is not null),
        operation => Assert.All(operation.Described["requestBody"]!["content"]!.AsObject(), content =>
            Assert.True(IsPicture(content) || (content.Value!["schema"]!["items"] ?? content.Value["schema"])!["$ref"] is not null, operation.ToString())));

    [Fact]
    public void Every_calculation_shows_worked_examples_and_their_answers() => Assert.All(
        document.Operations.Where(IsCalculation),
        operation => Assert.Equal(
            operation.Described["requestBody"]!["content"]!["application/json"]!["examples"]!.AsObject().Select(example => example.Key),
            operation.Responses["200"]!["content"]!["application/json"]!["examples"]!.AsObject().Select(example => example.Key)));

    [Fact]
    public void What_changes_something_takes_a_described_body_or_none() => Assert.Equal(
        [
            "/v1/alerts/{id}/acknowledge", "/v1/attachments/{sha256}", "/v1/circuits/{id}/headroom", "/v1/designs/read", "/v1/devices/{source}/sites",
            "/v1/enrolments", Exchange, "/v1/events", "/v1/judging", "/v1/keys", "/v1/refused/{id}/dismiss", "/v1/refused/{id}/resubmit", "/v1/subscriptions",
            "/v1/subscriptions/{id}/move", "/v1/visits", "/v1/visits/{id}", "/v1/visits/{id}/done", "/v1/webhooks",
        ],
        document.Operations.Where(operation => operation.Described["requestBody"] is not null && !IsCalculation(operation))
            .Select(operation => operation.Path).Order(StringComparer.Ordinal));

    [Fact]
    public void Every_number_says_its_unit_or_that_it_has_none()
    {
        var without = from schema in document.Schemas
                      from property in schema.Value!["properties"] as JsonObject ?? []
                      where IsNumber(property.Value!) || (property.Value!["items"] is { } items && IsNumber(items))
                      where property.Value!["x-unit"] is null && !Unit().IsMatch($"{property.Value["description"]}")
                      select $"{schema.Key}.{property.Key}: {property.Value["description"]}";
        Nothing.In(without);
    }

    [Fact]
    public async Task Every_operation_answers_as_described_when_no_key_is_sent()
    {
        foreach (var operation in document.Operations.Where(operation => operation.Path is not ("/health/ready" or Exchange)))
        {
            using var request = new HttpRequestMessage(new HttpMethod(operation.Method), Placeholder().Replace(operation.Path, "x"));
            if (operation.MediaType is { } mediaType) request.Content = new StringContent("{}", new MediaTypeHeaderValue(mediaType));
            using var response = await service.Client.SendAsync(request, TestContext.Current.CancellationToken);
            Assert.True((int)response.StatusCode == (operation.NeedsKey ? 401 : 200), $"{operation} answered {response.StatusCode}");
            if (!operation.NeedsKey) continue;
            Assert.Equal(ProblemMedia.Type, response.Content.Headers.ContentType?.MediaType);
            var problem = JsonNode.Parse(await response.Content.ReadAsStringAsync(TestContext.Current.CancellationToken))!;
            Assert.Equal(ProblemTypes.KeyMissing, problem["type"]!.GetValue<string>());
        }
    }

    private static bool IsCalculation(Operation operation) => operation.Path.StartsWith(CalculationEndpoints.Path, StringComparison.Ordinal);

    // Bytes, which no schema describes any further.
    private static bool IsPicture(KeyValuePair<string, JsonNode?> content) =>
        content.Key.StartsWith("image/", StringComparison.Ordinal) && content.Value!["schema"]!["format"]?.GetValue<string>() == "binary";

    private static bool IsNumber(JsonNode schema) => schema["type"] switch
    {
        JsonArray several => several.Any(each => each!.GetValue<string>() is "number" or "integer"),
        JsonValue one => one.GetValue<string>() is "number" or "integer",
        _ => false,
    };

    // A symbol, or words that say what the number counts.
    [GeneratedRegex(@"(, |in )(V|mA|A|W|Ω|mm²|mm|m|N|%|s|degrees)\b|%|\bunit\b|^Number of |^How often|\brunning number", RegexOptions.IgnoreCase)]
    private static partial Regex Unit();

    [GeneratedRegex(@"\{[^}]+\}")]
    private static partial Regex Placeholder();
}
