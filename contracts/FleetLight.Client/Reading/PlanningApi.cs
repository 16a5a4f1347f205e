using System.Globalization;
using System.Text.Json;
using FleetLight.Client.Sending;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;

namespace FleetLight.Client.Reading;

/// <summary>What is planned and what is left to do: open points of sites, designs as files, materials, labels to print.</summary>
public sealed class PlanningApi
{
    private const string Csv = "text/csv";

    private readonly Transport transport;

    internal PlanningApi(Transport transport) => this.transport = transport;

    /// <summary>What is missing on a site before the crew leaves, up to a phase or in all.</summary>
    /// <exception cref="FleetLightException">There is no such site, or no answer came.</exception>
    public Task<OpenPointsView> OpenPointsAsync(string site, WorkPhase? phase = null, CancellationToken cancel = default) =>
        transport.ReadAsync<OpenPointsView>(
            Call.Get($"v1/sites/{Escape(site)}/open-points{(phase is { } one ? $"?phase={JsonNamingPolicy.KebabCaseLower.ConvertName(one.ToString())}" : "")}"), cancel);

    /// <summary>What a table of designs (text/csv) says, with every mistake in it. Nothing is stored.</summary>
    public Task<DesignsRead> ReadDesignsAsync(ReadOnlyMemory<byte> table, CancellationToken cancel = default) =>
        transport.ReadAsync<DesignsRead>(new Call(HttpMethod.Post, "v1/designs/read") { Body = table, MediaType = Csv }, cancel);

    /// <summary>What designs in JSON say, with every mistake in them. Nothing is stored.</summary>
    public Task<DesignsRead> ReadDesignsAsync(IReadOnlyList<CircuitDesigned> designs, CancellationToken cancel = default) =>
        transport.ReadAsync<DesignsRead>(
            new Call(HttpMethod.Post, "v1/designs/read") { Body = JsonSerializer.SerializeToUtf8Bytes(designs, WireJson.Lenient) }, cancel);

    /// <summary>The newest design of a circuit.</summary>
    /// <exception cref="FleetLightException">There is no such circuit, it has no design, or no answer came.</exception>
    public Task<CircuitDesigned> DesignAsync(string circuit, CancellationToken cancel = default) =>
        transport.ReadAsync<CircuitDesigned>(Call.Get($"v1/circuits/{Escape(circuit)}/design"), cancel);

    /// <summary>The newest design of a circuit as a table (text/csv).</summary>
    public Task<byte[]> DesignTableAsync(string circuit, CancellationToken cancel = default) =>
        FileAsync($"v1/circuits/{Escape(circuit)}/design?format=csv", cancel);

    /// <summary>The newest designs of a site's circuits.</summary>
    public Task<IReadOnlyList<CircuitDesigned>> DesignsAsync(string site, CancellationToken cancel = default) =>
        transport.ReadAsync<IReadOnlyList<CircuitDesigned>>(Call.Get($"v1/sites/{Escape(site)}/designs"), cancel);

    /// <summary>The newest designs of a site's circuits as a table (text/csv).</summary>
    public Task<byte[]> DesignTableOfSiteAsync(string site, CancellationToken cancel = default) =>
        FileAsync($"v1/sites/{Escape(site)}/designs?format=csv", cancel);

    /// <summary>Materials and cut list of a circuit, by the stated assumptions. Lengths in m.</summary>
    public Task<MaterialsView> MaterialsOfCircuitAsync(string circuit, CancellationToken cancel = default) =>
        transport.ReadAsync<MaterialsView>(Call.Get($"v1/circuits/{Escape(circuit)}/materials"), cancel);

    /// <summary>Materials and cut list of a site, by the stated assumptions. Lengths in m.</summary>
    public Task<MaterialsView> MaterialsOfSiteAsync(string site, CancellationToken cancel = default) =>
        transport.ReadAsync<MaterialsView>(Call.Get($"v1/sites/{Escape(site)}/materials"), cancel);

    /// <summary>Labels of a site as a PDF in their true size.</summary>
    /// <param name="site">The site.</param>
    /// <param name="tapeMillimetres">Width of the tape, mm, 5 to 100.</param>
    /// <param name="kinds">Kinds of thing with commas between: duct, cable, box, circuit; all of them where absent.</param>
    /// <param name="cancel">Ends it.</param>
    public Task<byte[]> LabelsAsync(string site, double tapeMillimetres = 12, string? kinds = null, CancellationToken cancel = default) => FileAsync(
        string.Create(
            CultureInfo.InvariantCulture,
            $"v1/sites/{Escape(site)}/labels?format=pdf&tapeMillimetres={tapeMillimetres}{(kinds is null ? "" : $"&kinds={Escape(kinds)}")}"),
        cancel);

    /// <summary>The handover pack of a site as a file.</summary>
    /// <param name="site">The site.</param>
    /// <param name="format">pdf, html, json, or facts for the list that its digest is over.</param>
    /// <param name="paper">a4 or letter; of the PDF only.</param>
    /// <param name="asOf">The moment that it tells of; now where absent.</param>
    /// <param name="offsetMinutes">How far the clock of its days is ahead of UTC, min.</param>
    /// <param name="cancel">Ends it.</param>
    /// <exception cref="FleetLightException">There is no such site, or no answer came.</exception>
    public Task<byte[]> HandoverAsync(
        string site, string format = "pdf", string paper = "a4", DateTimeOffset? asOf = null, int offsetMinutes = 0, CancellationToken cancel = default) => FileAsync(
        string.Create(
            CultureInfo.InvariantCulture,
            $"v1/sites/{Escape(site)}/handover?format={Escape(format)}&paper={Escape(paper)}&offsetMinutes={offsetMinutes}")
        + (asOf is { } at ? $"&asOf={Escape(Call.Time(at))}" : ""),
        cancel);

    /// <summary>The handover pack of a site as data.</summary>
    /// <param name="site">The site.</param>
    /// <param name="asOf">The moment that it tells of; now where absent.</param>
    /// <param name="knownBy">Only what was known by then counts; all where absent.</param>
    /// <param name="offsetMinutes">How far the clock of its days is ahead of UTC, min.</param>
    /// <param name="cancel">Ends it.</param>
    /// <exception cref="FleetLightException">There is no such site, or no answer came.</exception>
    public Task<HandoverPack> HandoverPackAsync(
        string site, DateTimeOffset? asOf = null, DateTimeOffset? knownBy = null, int offsetMinutes = 0, CancellationToken cancel = default) =>
        transport.ReadAsync<HandoverPack>(
            Call.Get(Pages.With(
                $"v1/sites/{Escape(site)}/handover", ("format", "json"), ("asOf", Call.Time(asOf)), ("knownBy", Call.Time(knownBy)),
                ("offsetMinutes", Call.Number(offsetMinutes)))), cancel);

    private async Task<byte[]> FileAsync(string path, CancellationToken cancel) =>
        (await transport.SendAsync(Call.Get(path), null, cancel).ConfigureAwait(false)).Body;

    private static string Escape(string text) => Uri.EscapeDataString(text);
}
