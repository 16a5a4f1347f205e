using System.Net;
using System.Text.Json.Nodes;
using FleetLight.Testing.Builders;
using FleetLight.Testing.Service;
using Npgsql;
using Xunit;

namespace FleetLight.OpenData.Tests.Gis;

/// <summary>What a rebuild of the states leaves to do: features are made anew, and are there all the while.</summary>
[Collection<OpenServices>]
public sealed class MadeAnewTests(OpenService service)
{
    private const int Many = 1_200;

    [Fact]
    public async Task Features_stay_and_follow_what_changes_while_they_are_made_anew()
    {
        Organisation own = await Organisation.CreateAsync(service.Host);
        Device device = await own.AddDeviceAsync();
        foreach (int[] batch in Enumerable.Range(0, Many).Chunk(400))
            await device.TellAsync([.. batch.Select(n => Facts.BoxSealed($"b-{n:D4}", label: $"B{n}", siteId: "s"))]);
        await Eventually.IsSoAsync(async () => await CountAsync() == Many, "all boxes");

        await using NpgsqlDataSource database = NpgsqlDataSource.Create(service.ConnectionString);
        string owner = await ReadAsync(database, "select tenant_id from fleetlight.fl_feature where id = 'b-0000' and properties ->> 'label' = 'B0'");
        // As after a rebuild that put other states in the place of those that the features were made of: one is other, one is no more.
        await ReadAsync(database,
            $"""
            update fleetlight.fl_feature set properties = jsonb_set(properties, array['label'], '"old"') where tenant_id = '{owner}' and id = 'b-1100';
            insert into fleetlight.fl_feature (tenant_id, collection, id, owner, properties) values ('{owner}', 'boxes', 'gone', 'box:gone', jsonb_build_object('label', 'gone'));
            update fleetlight.fl_feature_place set edition = 1 where tenant_id = '{owner}'
            """);
        await device.TellAsync(Facts.BoxSealed("b-new", label: "New", siteId: "s"));
        bool isNew = false;
        await Eventually.IsSoAsync(
            async () =>
            {
                // Every answer on the way is whole.
                Assert.InRange(await CountAsync(), Many, Many + 2);
                isNew |= (await own.Office.GetAsync("/ogc/collections/boxes/items/b-new")).Status == HttpStatusCode.OK;
                return isNew && await CountAsync() == Many + 1
                    && await ReadAsync(database, $"select coalesce(filling, 'done') from fleetlight.fl_feature_place where tenant_id = '{owner}'") == "done";
            },
            "the features made anew");
        Assert.Equal(HttpStatusCode.NotFound, (await own.Office.GetAsync("/ogc/collections/boxes/items/gone")).Status);
        JsonNode mended = (await own.Office.GetAsync("/ogc/collections/boxes/items/b-1100")).Expect(HttpStatusCode.OK).Json;
        Assert.Equal("B1100", (string)mended["properties"]!["label"]!);

        async Task<long> CountAsync()
        {
            Answer answer = await own.Office.GetAsync("/ogc/collections/boxes/items?limit=1");
            Assert.Equal(HttpStatusCode.OK, answer.Status);
            return (long)answer.Json["numberMatched"]!;
        }
    }

    private static async Task<string> ReadAsync(NpgsqlDataSource database, string sql)
    {
        await using NpgsqlCommand command = database.CreateCommand(sql);
        return await command.ExecuteScalarAsync(TestContext.Current.CancellationToken) as string ?? "";
    }
}
