using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Web;

namespace Drainboard.Web.Shell;

/// <summary>A plot of a page as a file by itself.</summary>
internal static class SvgFile
{
    /// <param name="view">What the plot shows: its parameter of the name View.</param>
    public static async Task<IResult> OfAsync<TPlot>(object view, HttpContext http)
        where TPlot : IComponent
    {
        await using var renderer = new HtmlRenderer(http.RequestServices, http.RequestServices.GetRequiredService<ILoggerFactory>());
        var svg = await renderer.Dispatcher.InvokeAsync(async () => (await renderer.RenderComponentAsync<TPlot>(ParameterView.FromDictionary(new Dictionary<string, object?> { ["View"] = view }))).ToHtmlString());
        return TypedResults.Text(svg, "image/svg+xml", System.Text.Encoding.UTF8);
    }
}
