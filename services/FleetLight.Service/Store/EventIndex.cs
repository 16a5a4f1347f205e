namespace FleetLight.Service.Store;

/// <summary>
/// The index by which an organisation's events are read in their order without those of others. Marten has none of that kind and keeps
/// its hands off an index that it was told of, so it is made beside its schema, once.
/// </summary>
public static class EventIndex
{
    /// <summary>Its name.</summary>
    public const string Name = "fl_events_of_organisation";

    /// <summary>
    /// Makes it where it is missing. Appends wait meanwhile, about 3 s for a million events; making it beside them would wait for nodes that wait
    /// for this one.
    /// </summary>
    public const string Sql =
        $"""
        do $$ begin
          if to_regclass('{Tables.Schema}.{Name}') is null then
            create index {Name} on {Tables.Schema}.mt_events (tenant_id, seq_id);
          end if;
        end $$;
        """;
}
