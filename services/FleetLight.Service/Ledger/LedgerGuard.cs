namespace FleetLight.Service.Ledger;

/// <summary>
/// Has the database itself refuse to change or remove what stands in a ledger, whoever asks and by whatever program. Only an organisation that was
/// moved to another database is taken out, by a transaction that names it. Whoever owns the database can take this away too; that then
/// shows in the checkpoints that others keep.
/// </summary>
public static class LedgerGuard
{
    /// <summary>The setting of a transaction that names the organisation that was moved away.</summary>
    public const string MovedAway = "fleetlight.moved_away";

    /// <summary>Tables whose rows are only ever added.</summary>
    public static readonly string[] Tables = ["fl_ledger_leaf", "fl_ledger_node", "fl_ledger_checkpoint", "fl_ledger_export", "fl_ledger_key"];

    private const string Schema = Store.Tables.Schema;

    /// <summary>Puts it in place where it is missing.</summary>
    public static string Sql { get; } =
        $"""
        create or replace function {Schema}.fl_ledger_stays() returns trigger language plpgsql as $guard$
        begin
          if tg_op = 'DELETE' and to_jsonb(old) ->> 'tenant_id' = current_setting('{MovedAway}', true) then
            return old;
          end if;
          raise exception 'rows of % are only ever added', tg_table_name using errcode = 'restrict_violation';
        end $guard$;
        do $$ declare guarded text; begin
          foreach guarded in array array['{string.Join("', '", Tables)}'] loop
            if not exists (select from pg_trigger where tgname = 'fl_ledger_stays' and tgrelid = format('{Schema}.%I', guarded)::regclass) then
              execute format('create trigger fl_ledger_stays before delete on {Schema}.%I for each row execute function {Schema}.fl_ledger_stays()', guarded);
              execute format('create trigger fl_ledger_unchanged before update or truncate on {Schema}.%I for each statement execute function {Schema}.fl_ledger_stays()', guarded);
            end if;
          end loop;
        end $$;
        """;
}
