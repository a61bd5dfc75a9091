using Serilog;
using Serilog.Configuration;
using Serilog.Formatting.Compact;

namespace Drainboard.Web.Hosting;

/// <summary>The service's log, on its standard output: a line for a person, or, with DRAINBOARD_LOG=json, one JSON object for a program that gathers logs.</summary>
internal static class Logs
{
    // The whole time in UTC; what is put into a message is quoted, so that it cannot begin a line of its own.
    private const string Line = "{UtcTimestamp:yyyy-MM-ddTHH:mm:ss.fffZ} {Level:u3} {SourceContext}: {Message}{NewLine}{Exception}";

    public static LoggerConfiguration WriteToConsole(this LoggerConfiguration log, string? kind) => kind switch
    {
        null or "" => log.WriteTo.Console(outputTemplate: Line, formatProvider: Words.Culture),
        "json" => log.WriteTo.Console(new CompactJsonFormatter()),
        _ => throw new StartRefusedException($"DRAINBOARD_LOG: \"{kind}\" is not \"json\". Leave it unset for plain lines."),
    };

    /// <summary>Every request that failed, by the pattern of its address: what stands in a secret address is not written down.</summary>
    public static void UseRequestLog(this IApplicationBuilder app) => app.UseSerilogRequestLogging(options => options.GetMessageTemplateProperties = (http, _, elapsed, status) =>
    [
        new("RequestMethod", new Serilog.Events.ScalarValue(http.Request.Method)),
        new("RequestPath", new Serilog.Events.ScalarValue((http.GetEndpoint() as RouteEndpoint)?.RoutePattern.RawText ?? http.Request.Path.Value)),
        new("StatusCode", new Serilog.Events.ScalarValue(status)),
        new("Elapsed", new Serilog.Events.ScalarValue(elapsed)),
    ]);
}
