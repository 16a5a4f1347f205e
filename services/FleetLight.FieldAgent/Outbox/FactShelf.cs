using System.Text.Json;
using FleetLight.Contracts.Wire;
using Microsoft.Data.Sqlite;

namespace FleetLight.FieldAgent.Outbox;

/// <summary>Looks facts of the outbox up.</summary>
internal sealed class FactShelf(OutboxFile outbox)
{
    private const string Columns =
        "number, id, type, site, time, written_at, state, answered_at, problem, refused_id, mends, mended_by, text";

    /// <summary>A fact with its event; none where there is none.</summary>
    public KeptFact? Find(int number) => outbox.Read(statements => Find(statements, number));

    /// <summary>A fact with its event, within other statements.</summary>
    public static KeptFact? Find(Statements statements, int number) =>
        statements.Rows($"select {Columns} from fact where number = $number", row => Read(row, whole: true), ("$number", number)).FirstOrDefault();

    /// <summary>Facts in the order of their numbers, without their events.</summary>
    /// <param name="state">Only those that stand so; of the refused only those that nothing mends. All where absent.</param>
    /// <param name="after">Only those with greater numbers.</param>
    /// <param name="most">At most so many.</param>
    public IReadOnlyList<KeptFact> List(FactState? state, int after, int most) => outbox.Read(statements => statements.Rows(
        $"""
        select {Columns} from fact
        where number > $after and ($state is null or state = $state) and ($state is not 'refused' or mended_by is null)
        order by number limit $most
        """,
        row => Read(row, whole: false), ("$after", after), ("$state", state is { } wanted ? Word(wanted) : null), ("$most", most)));

    /// <summary>How many stand where.</summary>
    public FactCounts Count() => outbox.Read(statements =>
    {
        var counts = statements.Rows(
            "select state, count(*) from fact where state <> 'refused' or mended_by is null group by state",
            row => (State: row.GetString(0), Count: row.GetInt64(1))).ToDictionary(row => row.State, row => row.Count);
        return new FactCounts(
            counts.GetValueOrDefault("waiting"), counts.GetValueOrDefault("held"), counts.GetValueOrDefault("in-hand"), counts.GetValueOrDefault("refused"));
    });

    /// <summary>A state as it is written.</summary>
    public static string Word(FactState state) => JsonNamingPolicy.KebabCaseLower.ConvertName(state.ToString());

    private static KeptFact Read(SqliteDataReader row, bool whole) => new()
    {
        Number = row.GetInt32(0),
        Id = row.GetString(1),
        Type = row.GetString(2),
        Site = Text(row, 3),
        Time = Moments.Read(row.GetString(4)),
        WrittenAt = Moments.Read(row.GetString(5)),
        State = StateOf(row.GetString(6)),
        AnsweredAt = Text(row, 7) is { } at ? Moments.Read(at) : null,
        Problem = Text(row, 8) is { } problem ? JsonSerializer.Deserialize<Problem>(problem, WireJson.Lenient) : null,
        RefusedId = Text(row, 9),
        Mends = row.IsDBNull(10) ? null : row.GetInt32(10),
        MendedBy = row.IsDBNull(11) ? null : row.GetInt32(11),
        Event = whole ? JsonSerializer.Deserialize<JsonElement>((byte[])row[12]) : null,
    };

    private static FactState StateOf(string word) => word switch
    {
        "waiting" => FactState.Waiting,
        "held" => FactState.Held,
        "in-hand" => FactState.InHand,
        _ => FactState.Refused,
    };

    private static string? Text(SqliteDataReader row, int column) => row.IsDBNull(column) ? null : row.GetString(column);
}
