namespace FleetLight.FieldAgent.Outbox;

/// <summary>How the outbox file is laid out.</summary>
internal static class Schema
{
    /// <summary>Marks the file as an outbox: "FLfa" in the header's application id.</summary>
    public const int ApplicationId = 0x464C6661;

    /// <summary>Version of the layout.</summary>
    public const int Version = 1;

    /// <summary>Makes it. Times are ISO 8601 texts in UTC, so that they sort.</summary>
    public const string Create =
        """
        create table setting (name text not null primary key, value text not null) strict, without rowid;
        create table fact (
            number integer not null primary key,
            id text not null unique,
            reference text unique,
            type text not null,
            site text,
            time text not null,
            written_at text not null,
            text blob not null,
            digest blob not null,
            state text not null check (state in ('waiting', 'held', 'in-hand', 'refused')),
            answered_at text,
            held_until text,
            problem text,
            refused_id text,
            mends integer,
            mended_by integer
        ) strict;
        create index fact_state on fact (state, number);
        create table thing (
            kind text not null,
            id text not null,
            site text not null,
            text blob not null,
            fetched_at text not null,
            primary key (kind, id)
        ) strict, without rowid;
        create index thing_site on thing (site, kind, id);
        insert into setting values ('last-number', '0');
        """;
}
