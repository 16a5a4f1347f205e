using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Service.Access;
using FleetLight.Service.Hosting;
using Npgsql;

namespace FleetLight.Service.Photos;

/// <summary>Photos: the list.</summary>
public static class PhotoEndpoints
{
    /// <summary>Maps it.</summary>
    public static void MapPhotos(this IEndpointRouteBuilder routes) =>
        routes.MapGet("/v1/photos", ListAsync).Needs(Scope.ReadAsBuilt).WithTags("Photos")
            .WithSummary("Photos, newest first")
            .WithDescription(
                "Filtered by 'site', 'kind' and 'thing'; with a kind, those of all ids that mean the thing. 'inHand' says whether the bytes have come; "
                + "'/v1/attachments/{sha256}' has them then. A photo whose fact was withdrawn is left out. The Link header names the next page.")
            .Produces<Page<PhotoView>>().ProducesProblems(400, 401, 403);

    private static async Task<IResult> ListAsync(
        Caller caller, NpgsqlDataSource database, CancellationToken cancel,
        string? site = null, string? kind = null, string? thing = null, string? cursor = null, int? limit = null)
    {
        if (!Query.TryEnum<ThingKind>(kind, "kind", out var wanted, out var problem) || !Paging.TryRead(cursor, limit, out var page, out problem))
            return Problems.Result(problem!);
        IReadOnlyCollection<string>? things = thing is null ? null
            : wanted is { } named ? await SameThings.OfAsync(database, caller.Organisation, named, thing, cancel)
            : [thing];
        var found = await PhotoRows.ListAsync(database, caller.Organisation, new PhotoFilter(site, wanted, things), page.After, page.Limit + 1, cancel);
        return Paging.ByKey([.. found.Select(each => each.Photo)], page, last => found.First(each => ReferenceEquals(each.Photo, last)).Cursor);
    }
}
