using System.Security.Cryptography;
using System.Text.Json;
using Drainboard.Web.Hosting;
using Microsoft.Extensions.FileProviders;

namespace Drainboard.Web.Features.OnBoard;

/// <summary>
/// The crew's report is a static page that works without a connection: its files, and the worker that keeps them on the device. The worker's
/// text names every file and a hash over all of them, so that a new version of any is fetched as a whole.
/// </summary>
internal sealed class ReportShell
{
    private const string Folder = "report";
    private const string Worker = "sw.js";
    private static readonly string[] Shared = ["look.css", "icon.svg"];

    private readonly Lazy<(string Page, string WorkerText)> _texts;

    public ReportShell(IWebHostEnvironment environment) => _texts = new(() => Make(environment.WebRootFileProvider));

    public static void Map(IEndpointRouteBuilder app)
    {
        app.MapGet("/report", (ReportShell shell, HttpContext http) =>
        {
            http.Response.Headers.CacheControl = "no-cache";
            return TypedResults.Text(shell._texts.Value.Page.Replace("data-theme=\"system\"", $"data-theme=\"{Preferences.ThemeOf(http)}\"", StringComparison.Ordinal), "text/html; charset=utf-8");
        }).AllowAnonymous().ExcludeFromDescription();
        // A worker reaches no further than the folder it comes from: it must stand beside the page, not below it.
        app.MapGet("/report-sw.js", (ReportShell shell, HttpContext http) =>
        {
            http.Response.Headers.CacheControl = "no-cache";
            return TypedResults.Text(shell._texts.Value.WorkerText, "text/javascript; charset=utf-8");
        }).AllowAnonymous().ExcludeFromDescription();
    }

    private static (string Page, string WorkerText) Make(IFileProvider files)
    {
        var paths = Below(files, Folder).Where(path => path is not $"{Folder}/{Worker}" and not $"{Folder}/index.html" && Path.GetExtension(path) is ".js" or ".css" or ".json" or ".webmanifest" or ".png")
            .Concat(Below(files, "fonts").Where(path => Path.GetExtension(path) == ".woff2")).Concat(Shared).Order(StringComparer.Ordinal).ToArray();
        var page = Read(files, $"{Folder}/index.html");
        var worker = Read(files, $"{Folder}/{Worker}");
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        hash.AppendData(System.Text.Encoding.UTF8.GetBytes(page + worker));
        foreach (var path in paths)
        {
            hash.AppendData(Bytes(files, path));
        }

        var version = Convert.ToHexStringLower(hash.GetHashAndReset())[..16];
        return (page, worker.Replace("= SHELL", $"= {JsonSerializer.Serialize(paths.Select(path => $"/{path}").Prepend("/report"))}", StringComparison.Ordinal).Replace("+ VERSION", $"+ \"{version}\"", StringComparison.Ordinal));
    }

    private static IEnumerable<string> Below(IFileProvider files, string folder) =>
        files.GetDirectoryContents(folder).SelectMany(entry => entry.IsDirectory ? Below(files, $"{folder}/{entry.Name}") : [$"{folder}/{entry.Name}"]);

    private static string Read(IFileProvider files, string path) => System.Text.Encoding.UTF8.GetString(Bytes(files, path));

    private static byte[] Bytes(IFileProvider files, string path)
    {
        using var stream = files.GetFileInfo(path).CreateReadStream();
        using var bytes = new MemoryStream();
        stream.CopyTo(bytes);
        return bytes.ToArray();
    }
}
