using System.Net;
using System.Security.Cryptography;
using System.Text;
using FleetLight.Service.Exports;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Microsoft.Extensions.DependencyInjection;
using Npgsql;
using Xunit;

namespace FleetLight.Service.Tests.Exports;

/// <summary>A service whose callers do not wait long for a table.</summary>
public sealed class ImpatientService : FleetService
{
    public static readonly TimeSpan Patience = TimeSpan.FromMilliseconds(300);

    protected override void Configure(IServiceCollection services) => services.AddSingleton(TableMaker.Options with { Patience = Patience });
}

/// <summary>Tables that take longer than an answer may.</summary>
public sealed class LargeTableTests(ImpatientService service) : IClassFixture<ImpatientService>
{
    private const int Rows = 50_000;
    private const string Path = "/v1/export/tables/readings";
    private const string Meter = "Meter \"A\", blue";

    [Fact]
    public async Task A_table_that_takes_longer_than_an_answer_may_is_made_all_the_same()
    {
        Organisation own = await ReadingsAsync();
        await using NpgsqlConnection connection = new(service.ConnectionString);
        await connection.OpenAsync(TestContext.Current.CancellationToken);
        await using NpgsqlTransaction transaction = await connection.BeginTransactionAsync(TestContext.Current.CancellationToken);
        await using (NpgsqlCommand locked = new("lock table fleetlight.fl_reading in access exclusive mode", connection, transaction))
            await locked.ExecuteNonQueryAsync(TestContext.Current.CancellationToken);
        for (int second = 0; second < 11; second++)
        {
            Answer answer = await own.Office.GetAsync(Path);
            Assert.Equal((HttpStatusCode.ServiceUnavailable, "3"), (answer.Status, answer.Headers.RetryAfter?.ToString()));
            await Task.Delay(TimeSpan.FromSeconds(1), TestContext.Current.CancellationToken);
        }

        await transaction.RollbackAsync(TestContext.Current.CancellationToken);
        Answer whole = await Eventually.ReadAsync(() => own.Office.GetAsync(Path), answer => answer.Status == HttpStatusCode.OK, "the table");

        Assert.Equal($"sha-256=:{Convert.ToBase64String(SHA256.HashData(whole.Body))}:", whole.Headers.GetValues("Repr-Digest").Single());
        Assert.Equal(Encoding.UTF8.Preamble, whole.Body.AsSpan(0, 3));
        List<string[]> rows = Rfc4180(Encoding.UTF8.GetString(whole.Body.AsSpan(3)));
        Assert.Equal(Rows + 2, rows.Count);
        Assert.All(rows, row => Assert.Equal(rows[0].Length, row.Length));
        Assert.All(rows.Skip(1), row => Assert.Contains(Meter, row));
        Assert.Equal(Rows + 1, rows.Skip(1).Select(row => string.Join('|', row)).Distinct().Count());

        // Whoever has a part goes on with the same, though there is more meanwhile.
        await (await own.AddDeviceAsync()).TellAsync(Some.Reading(1));
        await service.CaughtUpAsync();
        Answer rest = await own.Office.GetAsync(Path, ("Range", "bytes=1000000-"), ("If-Range", whole.Headers.ETag!.ToString()));
        Assert.Equal(HttpStatusCode.PartialContent, rest.Status);
        Assert.True(whole.Body.AsSpan(1_000_000).SequenceEqual(rest.Body));
    }

    [Fact]
    public async Task A_small_table_is_as_it_stands_and_more_than_a_few_at_once_are_not_made()
    {
        Organisation own = await service.AddOrganisationAsync();
        Device device = await own.AddDeviceAsync();
        foreach (int number in (int[])[1, 2])
        {
            await device.TellAsync(Some.DuctLaid($"d{number}"));
            await service.CaughtUpAsync();
            Answer answer = await Eventually.ReadAsync(
                () => own.Office.GetAsync("/v1/export/tables/ducts"), found => found.Status == HttpStatusCode.OK, "the table");
            Assert.Contains($"d{number}", answer.Text, StringComparison.Ordinal);
        }

        await using NpgsqlConnection connection = new(service.ConnectionString);
        await connection.OpenAsync(TestContext.Current.CancellationToken);
        await using NpgsqlTransaction transaction = await connection.BeginTransactionAsync(TestContext.Current.CancellationToken);
        await using (NpgsqlCommand locked = new("lock table fleetlight.fl_reading in access exclusive mode", connection, transaction))
            await locked.ExecuteNonQueryAsync(TestContext.Current.CancellationToken);
        for (int day = 1; day <= 4; day++)
            Assert.Equal(HttpStatusCode.ServiceUnavailable, (await own.Office.GetAsync($"{Path}?happenedFrom=2026-03-0{day}T00:00:00Z")).Status);
        Assert.Equal(HttpStatusCode.TooManyRequests, (await own.Office.GetAsync($"{Path}?happenedFrom=2026-03-05T00:00:00Z")).Status);
        await transaction.RollbackAsync(TestContext.Current.CancellationToken);
    }

    // One reading as a device hands it in, and many like it at other times.
    private async Task<Organisation> ReadingsAsync()
    {
        Organisation own = await service.AddOrganisationAsync();
        await (await own.AddDeviceAsync()).TellAsync(Some.Reading() with { MeterName = Meter });
        await service.CaughtUpAsync();
        await service.QueryAsync<object>(
            """
            insert into fleetlight.fl_reading (tenant_id, circuit_id, happened_at, event_id, recorded_at, counts, entry)
            select tenant_id, circuit_id, happened_at + number * interval '1 minute', gen_random_uuid(), recorded_at, counts,
              regexp_replace(entry, '[0-9]{18}', (substring(entry from '[0-9]{18}')::bigint + number::bigint * 600000000)::text)
            from fleetlight.fl_reading, generate_series(1, $2) as number where tenant_id = $1
            """, own.Name, Rows);
        return own;
    }

    // Strictly by RFC 4180: rows end with CRLF, a quoted field doubles its quotation marks, none stands in an unquoted one.
    private static List<string[]> Rfc4180(string text)
    {
        List<string[]> rows = [];
        List<string> fields = [];
        for (int at = 0; at < text.Length;)
        {
            StringBuilder field = new();
            if (text[at] == '"')
            {
                for (at++; text[at] != '"' || (at + 1 < text.Length && text[at + 1] == '"'); at++)
                {
                    if (text[at] == '"') at++;
                    field.Append(text[at]);
                }

                at++;
            }
            else
            {
                for (; text[at] is not (',' or '\r'); at++)
                {
                    Assert.NotEqual('"', text[at]);
                    Assert.NotEqual('\n', text[at]);
                    field.Append(text[at]);
                }
            }

            fields.Add(field.ToString());
            if (text[at] == ',')
            {
                at++;
                continue;
            }

            Assert.Equal("\r\n", text.Substring(at, 2));
            at += 2;
            rows.Add([.. fields]);
            fields.Clear();
        }

        Assert.Empty(fields);
        return rows;
    }
}
