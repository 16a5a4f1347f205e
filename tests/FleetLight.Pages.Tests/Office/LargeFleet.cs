using System.Net;
using FleetLight.Pages.Tests.Browsing;
using FleetLight.Testing.Builders;
using FleetLight.Testing.Service;
using Npgsql;

namespace FleetLight.Pages.Tests.Office;

/// <summary>
/// An organisation with 500 sites and 20,000 circuits. They are written straight into the tables that lists are read from: what is
/// tested is how the page copes with so many, and not the way of their facts.
/// </summary>
internal static class LargeFleet
{
    public const int Sites = 500;
    public const int Circuits = 20_000;

    /// <summary>The circuit that is there by a fact.</summary>
    public const string Recorded = "c00002";

    public static async Task<(Organisation Organisation, Device Crew)> CreateAsync(RunningService service)
    {
        var organisation = await service.AddOrganisationAsync();
        // One of them has its fact, so that it can be changed by another.
        var crew = await organisation.AddDeviceAsync();
        await crew.TellAsync(CircuitFacts.Designed(Recorded, name: "Lights 2", siteId: "s000"));
        await Eventually.ReadAsync(
            async () => (await organisation.Office.GetAsync($"/v1/circuits/{Recorded}")).Status, status => status == HttpStatusCode.OK, "the recorded circuit");
        await using var database = NpgsqlDataSource.Create(service.Process.ConnectionString);
        await using var command = database.CreateCommand(
            """
            insert into fleetlight.fl_state (tenant_id, kind, id, site_id, body, line)
            select $1, 'site', id, id, (line || jsonb_build_object('id', id, 'siteId', id, 'waitingFor', '[]'::jsonb, 'contradictions', '[]'::jsonb,
              'findings', '[]'::jsonb, 'facts', '[]'::jsonb))::text, line::text
            from (select 's' || to_char(n, 'FM000') as id, jsonb_build_object('name', 'Garden ' || n, 'place', 'Ormsley (invented), plot ' || n,
              'position', jsonb_build_object('type', 'Point', 'coordinates',
                jsonb_build_array(9.5 + (n * 37 % 500) * 0.002, 50.5 + (n * 91 % 500) * 0.0012))) as line
              from generate_series(0, $2 - 1) as n) as sites on conflict do nothing;
            """);
        command.Parameters.Add(new NpgsqlParameter { Value = organisation.Name });
        command.Parameters.Add(new NpgsqlParameter { Value = Sites });
        await command.ExecuteNonQueryAsync();
        await using var circuits = database.CreateCommand(
            """
            insert into fleetlight.fl_circuit (tenant_id, id, site_id, phase, verdict, rules, line, basis_stamp, readings, findings, search)
            select $1, id, site, phase, verdict, '{}'::text[], jsonb_build_object('id', id, 'siteId', site, 'name', name, 'phase', phase, 'verdict', verdict,
              'rules', '[]'::jsonb)::text, 'none', '{"entries":[]}', '[]', lower(id || ' ' || name)
            from (select 'c' || to_char(n, 'FM00000') as id, 's' || to_char(n / ($2 / $3), 'FM000') as site, 'Lights ' || n as name,
              (array['designed', 'cabled', 'energised', 'proven', 'handed-over'])[1 + n % 5] as phase,
              case when n % 997 = 0 then 'outside' when n % 211 = 0 then 'doubtful' when n % 5 = 0 then 'unread' else 'within' end as verdict
              from generate_series(0, $2 - 1) as n) as circuits on conflict do nothing;
            """);
        circuits.Parameters.Add(new NpgsqlParameter { Value = organisation.Name });
        circuits.Parameters.Add(new NpgsqlParameter { Value = Circuits });
        circuits.Parameters.Add(new NpgsqlParameter { Value = Sites });
        await circuits.ExecuteNonQueryAsync();
        return (organisation, crew);
    }
}
