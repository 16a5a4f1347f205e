using System.Security.Cryptography;
using System.Text;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Handover;
using FleetLight.Testing.Builders;

namespace FleetLight.Handover.Tests;

/// <summary>The digest over the facts behind a pack.</summary>
public sealed class FactRollTests
{
    private static readonly RecordedFact[] Facts3 = Three();

    [Fact]
    public void The_digest_is_that_of_the_list_as_text_and_does_not_depend_on_the_order()
    {
        var roll = FactRoll.Of(Facts3);

        Assert.Equal(Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(FactRoll.Text(roll.Facts)))), roll.Sha256);
        Assert.Equal(roll.Sha256, FactRoll.Of([Facts3[2], Facts3[0], Facts3[1]]).Sha256);
        Assert.Equal(Facts3.Max(fact => fact.Of.RecordedAt), roll.KnownBy);
        Assert.Equal(3, FactRoll.Text(roll.Facts).Count(c => c == '\n'));
    }

    [Fact]
    public void A_fact_is_digested_in_canonical_form_worked_out_by_hand()
    {
        var at = new DateTimeOffset(2026, 3, 2, 8, 0, 0, TimeSpan.Zero);
        var fact = new RecordedFact(
            new FactOrigin { Source = "s", Id = "1", RunningNumber = 1, DeviceTime = at, HappenedAt = at, RecordedAt = at.AddMinutes(5), Digest = "d" },
            new DuctPlugged { SiteId = "site-1", DuctId = "d1", End = Contracts.RunEnd.Near });
        // Members in the order of their names, no blanks: RFC 8785.
        const string canonical =
            "{\"data\":{\"ductId\":\"d1\",\"end\":\"near\",\"siteId\":\"site-1\"},\"of\":{\"deviceTime\":\"2026-03-02T08:00:00+00:00\",\"digest\":\"d\","
            + "\"happenedAt\":\"2026-03-02T08:00:00+00:00\",\"id\":\"1\",\"recordedAt\":\"2026-03-02T08:05:00+00:00\",\"runningNumber\":1,\"source\":\"s\"},"
            + "\"type\":\"fleetlight.duct.plugged.v1\"}";

        Assert.Equal(Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(canonical))), FactRoll.DigestOf(fact));
    }

    [Fact]
    public void Whatever_of_a_fact_is_altered_shows_even_where_the_kept_digest_is_altered_with_it()
    {
        var fact = Facts3[0];
        var before = FactRoll.DigestOf(fact);
        RecordedFact[] altered =
        [
            fact with { Data = ((DuctLaid)fact.Data) with { LengthMetres = 20.01 } },
            fact with { Of = fact.Of with { HappenedAt = fact.Of.HappenedAt.AddSeconds(1) } },
            fact with { Of = fact.Of with { RecordedAt = fact.Of.RecordedAt.AddSeconds(1) } },
            fact with { Of = fact.Of with { RunningNumber = 99 } },
            fact with { Of = fact.Of with { Source = "another" } },
            fact with { Of = fact.Of with { Digest = "0" } },
        ];

        Assert.All(altered, each => Assert.NotEqual(before, FactRoll.DigestOf(each)));
        Assert.Equal(altered.Length, altered.Select(FactRoll.DigestOf).Distinct().Count());
    }

    [Fact]
    public void One_fact_less_or_more_shows()
    {
        Assert.NotEqual(FactRoll.Of(Facts3).Sha256, FactRoll.Of(Facts3[..2]).Sha256);
        Assert.Null(FactRoll.Of([]).KnownBy);
    }

    private static RecordedFact[] Three()
    {
        var crew = new Crew();
        return [crew.Records(Facts.DuctLaid()), crew.Records(Facts.StringLeft()), crew.Records(Facts.DuctLabelled())];
    }
}
