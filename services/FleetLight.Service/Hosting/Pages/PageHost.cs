using Microsoft.AspNetCore.StaticFiles;
using Microsoft.Net.Http.Headers;

namespace FleetLight.Service.Hosting.Pages;

/// <summary>
/// Serves the two pages that people use, <c>/field/</c> and <c>/office/</c>. They hold no data: they run in the browser and read
/// the API with the caller's key. Every address of theirs that is not a file's is answered with their <c>index.html</c>.
/// </summary>
public static class PageHost
{
    /// <summary>Setting that names the folder of the pages; beside the program where absent.</summary>
    public const string FolderSetting = "Pages:Folder";

    private static readonly string[] Names = ["field", "office"];

    // What people type, and what one-time codes name. A browser carries what stands behind '#' over to the new address.
    private static readonly (string From, string Page, string To)[] Ways = [("/", "office", "/office/"), ("/enrol", "field", "/field/enrol")];

    // Names of files that carry a digest of what is in them never come to hold anything else.
    private const string ForEver = "public, max-age=31536000, immutable";

    private static readonly FileExtensionContentTypeProvider Types = new()
    {
        Mappings = { [".webmanifest"] = "application/manifest+json", [".dat"] = "application/octet-stream", [".blat"] = "application/octet-stream" },
    };

    /// <summary>Serves them. Before routing, whose answer to every other path is a problem.</summary>
    public static void UsePages(this WebApplication app)
    {
        var root = app.Configuration[FolderSetting] ?? Path.Combine(AppContext.BaseDirectory, "pages");
        var issuers = Access.People.IssuerOptions.Of(app.Configuration);
        PageFolder[] pages = [.. Names.Select(name => PageFolder.Find(name, root, name == "office" ? SignInOffer.Origins(issuers) : [])).OfType<PageFolder>()];
        app.MapWhen(
            context => IsRead(context.Request) && context.Request.Path == $"/office/{SignInOffer.File}",
            branch => branch.Run(context => OfferAsync(context, SignInOffer.Of(issuers))));
        foreach (var page in pages)
            app.MapWhen(context => context.Request.Path.StartsWithSegments($"/{page.Name}"), branch => branch.Run(context => AnswerAsync(context, page)));
        foreach (var (from, page, to) in Ways)
        {
            var built = pages.Any(each => each.Name == page);
            app.MapWhen(
                context => IsRead(context.Request) && (context.Request.Path == from || context.Request.Path == from + "/"),
                branch => branch.Run(context => built ? LeadAsync(context, to) : Problems.Result(Problems.PageNotBuilt(page)).ExecuteAsync(context)));
        }
    }

    private static bool IsRead(HttpRequest request) => HttpMethods.IsGet(request.Method) || HttpMethods.IsHead(request.Method);

    private static Task OfferAsync(HttpContext context, object[] providers)
    {
        context.Response.Headers.CacheControl = "no-cache";
        return context.Response.WriteAsJsonAsync(providers, context.RequestAborted);
    }

    private static Task LeadAsync(HttpContext context, string to)
    {
        context.Response.Headers.CacheControl = "no-cache";
        context.Response.Redirect(to + context.Request.QueryString);
        return Task.CompletedTask;
    }

    private static Task AnswerAsync(HttpContext context, PageFolder page)
    {
        if (!IsRead(context.Request))
        {
            context.Response.Headers.Allow = "GET, HEAD";
            context.Response.StatusCode = StatusCodes.Status405MethodNotAllowed;
            return Task.CompletedTask;
        }

        var path = context.Request.Path.Value!;
        if (path.Length == page.Name.Length + 1)
        {
            context.Response.Redirect($"/{page.Name}/{context.Request.QueryString}");
            return Task.CompletedTask;
        }

        var rest = path[(page.Name.Length + 2)..];
        var file = page.FileAt(rest);
        // A file of another version that is gone must not be answered with a page.
        if (file is null && Path.HasExtension(rest) && (rest.StartsWith('_') || !rest.Contains('/', StringComparison.Ordinal)))
        {
            context.Response.StatusCode = StatusCodes.Status404NotFound;
            return Task.CompletedTask;
        }

        return SendAsync(context, page, file ?? page.Index);
    }

    private static async Task SendAsync(HttpContext context, PageFolder page, string file)
    {
        var (path, coding) = Coded(context.Request, file);
        var info = new FileInfo(path);
        var headers = context.Response.GetTypedHeaders();
        context.Response.Headers.ContentSecurityPolicy = page.Policy;
        context.Response.Headers["Permissions-Policy"] = "camera=(self), geolocation=(self)";
        context.Response.Headers.Vary = HeaderNames.AcceptEncoding;
        if (coding is not null) context.Response.Headers.ContentEncoding = coding;
        var entity = new EntityTagHeaderValue($"\"{info.LastWriteTimeUtc.Ticks:x}-{info.Length:x}{coding}\"");
        headers.ETag = entity;
        context.Response.Headers.CacheControl = HasDigest(file) ? ForEver : "no-cache";
        if (context.Request.GetTypedHeaders().IfNoneMatch.Any(known => known.Compare(entity, false)))
        {
            context.Response.StatusCode = StatusCodes.Status304NotModified;
            return;
        }

        context.Response.ContentType = Types.TryGetContentType(file, out var type) ? type : "application/octet-stream";
        context.Response.ContentLength = info.Length;
        if (HttpMethods.IsGet(context.Request.Method)) await context.Response.SendFileAsync(path, context.RequestAborted);
    }

    // The build laid compressed copies beside each file.
    private static (string Path, string? Coding) Coded(HttpRequest request, string file)
    {
        var taken = request.GetTypedHeaders().AcceptEncoding;
        foreach (var (coding, ending) in (ReadOnlySpan<(string, string)>)[("br", ".br"), ("gzip", ".gz")])
        {
            if (taken.Any(each => each.Value.Equals(coding, StringComparison.OrdinalIgnoreCase) && each.Quality is not 0) && File.Exists(file + ending))
                return (file + ending, coding);
        }

        return (file, null);
    }

    // dotnet.native.rw4kynp763.wasm: the part before the ending is a digest of ten letters and digits.
    private static bool HasDigest(string file)
    {
        var parts = Path.GetFileName(file).Split('.');
        return parts.Length >= 3 && parts[^2].Length == 10 && parts[^2].All(char.IsAsciiLetterOrDigit);
    }
}
