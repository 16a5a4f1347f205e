using Marten;

namespace FleetLight.Service.Works;

/// <summary>
/// What a page wants written, kept back until the whole page went well: a page that fails half way has written nothing, and
/// can be run again without what made it fail.
/// </summary>
public sealed class PageWrites
{
    private readonly List<Action<IDocumentOperations>> writes = [];
    private readonly List<(string What, Action Told)> tells = [];

    /// <summary>Writes by a statement.</summary>
    public void Sql(string statement, params object[] values) => writes.Add(operations => operations.QueueSqlCommand(statement, values));

    /// <summary>Writes a document.</summary>
    public void Store<T>(T document) where T : notnull => writes.Add(operations => operations.Store(document));

    /// <summary>Appends an event.</summary>
    public void Append(string stream, object happened) => writes.Add(operations => operations.Events.Append(stream, happened));

    /// <summary>Tells of something that is only so once the page went well.</summary>
    /// <param name="what">What, so that it is told once.</param>
    /// <param name="told">Tells it.</param>
    public void Tell(string what, Action told) => tells.Add((what, told));

    /// <summary>Hands it all over, in the order in which it was asked for.</summary>
    public void Save(IDocumentOperations operations)
    {
        foreach (var write in writes) write(operations);
    }

    /// <summary>Tells what was not told before.</summary>
    public void TellOf(Telling telling)
    {
        foreach (var (what, told) in tells)
        {
            if (telling.IsNew(what)) told();
        }
    }
}
