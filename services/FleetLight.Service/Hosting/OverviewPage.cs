using Microsoft.Extensions.FileProviders;

namespace FleetLight.Service.Hosting;

/// <summary>The read-only overview page at <c>/</c>. It holds no data of its own: it reads the API with the caller's key.</summary>
public static class OverviewPage
{
    /// <summary>What the page may load: only what this service serves, nothing written into the page, and it is shown in no frame.</summary>
    public const string Policy =
        "default-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'; object-src 'none'";

    /// <summary>Serves the files of <c>wwwroot</c>. Before routing, whose answer to every other path is a problem.</summary>
    public static void UseOverviewPage(this WebApplication app)
    {
        var files = new PhysicalFileProvider(FolderOf(app.Environment));
        app.UseDefaultFiles(new DefaultFilesOptions { FileProvider = files, DefaultFileNames = ["index.html"] });
        app.UseStaticFiles(new StaticFileOptions
        {
            FileProvider = files,
            OnPrepareResponse = served =>
            {
                var headers = served.Context.Response.Headers;
                headers.ContentSecurityPolicy = Policy;
                // Asked for again each time, which a 304 answers: a new version never runs with parts of an old one.
                headers.CacheControl = "no-cache";
            },
        });
    }

    // Where the project has it, so that a change shows at once; else beside the program, where the build puts a copy.
    private static string FolderOf(IWebHostEnvironment environment) =>
        environment.WebRootPath is { } root && File.Exists(Path.Combine(root, "index.html"))
            ? root
            : Path.Combine(AppContext.BaseDirectory, "wwwroot");
}
