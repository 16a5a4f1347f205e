using System.Text.Json;
using FleetLight.Client.Sending;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Contracts.Wire;

namespace FleetLight.Client.Reading;

/// <summary>What is in the ground.</summary>
public sealed class AsBuiltApi
{
    private readonly Transport transport;

    internal AsBuiltApi(Transport transport) => this.transport = transport;

    /// <summary>
    /// A site's ducts, cables, boxes, drivers and fittings as a GeoJSON FeatureCollection (RFC 7946, WGS 84). Units stand in the
    /// names of the properties. A thing whose position nobody recorded has a null geometry.
    /// </summary>
    /// <exception cref="FleetLightException">There is no such site, or no answer came.</exception>
    public Task<JsonElement> SiteAsync(string id, CancellationToken cancel = default) =>
        transport.ReadAsync<JsonElement>(Call.Get($"v1/sites/{Uri.EscapeDataString(id)}/as-built"), cancel);

    /// <summary>The same as it was: what was built by a time.</summary>
    /// <exception cref="FleetLightException">Nothing was known of such a site then, or no answer came.</exception>
    public Task<JsonElement> SiteAsOfAsync(string id, DateTimeOffset asOf, CancellationToken cancel = default) =>
        transport.ReadAsync<JsonElement>(Call.Get($"v1/sites/{Uri.EscapeDataString(id)}/as-built?asOf={Uri.EscapeDataString(Call.Time(asOf))}"), cancel);
}

/// <summary>
/// Calculations on circuits and ducts of one's own. A circuit that cannot work is an answer with <c>noAnswer</c>; a request that
/// has to be mended is a <see cref="ProblemException"/> with status 400. Advice, never a certificate.
/// </summary>
public sealed class CalculationApi
{
    private readonly Transport transport;

    internal CalculationApi(Transport transport) => this.transport = transport;

    /// <summary>What a circuit should read (V DC, mA, W, Ω), and how sure that is.</summary>
    public Task<ExpectedAnswer> ExpectedAsync(ExpectedRequest request, CancellationToken cancel = default) =>
        AskAsync<ExpectedAnswer>("expected", request, cancel);

    /// <summary>Whether readings are what a sound circuit would show.</summary>
    public Task<VerdictAnswer> VerdictAsync(VerdictRequest request, CancellationToken cancel = default) => AskAsync<VerdictAnswer>("verdict", request, cancel);

    /// <summary>What would explain a circuit's readings, and what to do.</summary>
    public Task<DiagnosisAnswer> DiagnosisAsync(DiagnosisRequest request, CancellationToken cancel = default) =>
        AskAsync<DiagnosisAnswer>("diagnosis", request, cancel);

    /// <summary>Where to measure next and what, or why to stop.</summary>
    public Task<NextMeasurementAnswer> NextMeasurementAsync(NextMeasurementRequest request, CancellationToken cancel = default) =>
        AskAsync<NextMeasurementAnswer>("next-measurement", request, cancel);

    /// <summary>Whether fittings may be added, and how long a new run may be.</summary>
    public Task<HeadroomAnswer> HeadroomAsync(HeadroomRequest request, CancellationToken cancel = default) =>
        AskAsync<HeadroomAnswer>("headroom", request, cancel);

    /// <summary>Whether fittings may be added to a recorded circuit, here, over these spare cores or on a new run.</summary>
    public Task<HeadroomAnswer> CircuitHeadroomAsync(string circuit, CircuitHeadroomRequest request, CancellationToken cancel = default) =>
        PostAsync<HeadroomAnswer>($"v1/circuits/{Uri.EscapeDataString(circuit)}/headroom", request, cancel);

    /// <summary>Whether readings over months drift, and when a limit is crossed.</summary>
    public Task<DriftAnswer> DriftAsync(DriftRequest request, CancellationToken cancel = default) => AskAsync<DriftAnswer>("drift", request, cancel);

    /// <summary>How full a duct is, %, and which cable goes in besides.</summary>
    public Task<DuctFillAnswer> DuctFillAsync(DuctFillRequest request, CancellationToken cancel = default) =>
        AskAsync<DuctFillAnswer>("duct-fill", request, cancel);

    /// <summary>What force (N) pulls a cable in, and from which end to pull.</summary>
    public Task<DuctPullAnswer> DuctPullAsync(DuctPullRequest request, CancellationToken cancel = default) =>
        AskAsync<DuctPullAnswer>("duct-pull", request, cancel);

    private Task<T> AskAsync<T>(string name, object request, CancellationToken cancel) => PostAsync<T>($"v1/calculations/{name}", request, cancel);

    private Task<T> PostAsync<T>(string path, object request, CancellationToken cancel) => transport.ReadAsync<T>(
        new Call(HttpMethod.Post, path) { Body = JsonSerializer.SerializeToUtf8Bytes(request, request.GetType(), WireJson.Lenient) },
        cancel);
}
