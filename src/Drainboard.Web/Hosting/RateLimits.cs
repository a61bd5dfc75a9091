using System.Net;
using System.Threading.RateLimiting;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.RateLimiting;

namespace Drainboard.Web.Hosting;

/// <summary>
/// How much one address may ask of one process: few tries at the doors where secrets are tried, and as much of the API as no honest program needs.
/// Beside it the database counts the tries of each secret, over all processes. What is asked on the machine itself is the operator's own.
/// </summary>
internal static class RateLimits
{
    /// <summary>A station's whole shift behind one address, signing in at once (our choice).</summary>
    public const int DoorsPerMinute = 60;

    /// <summary>Our choice: a feed of a whole airline asks a few times a second.</summary>
    public const int CallsPerSecond = 100;

    private const int CallsAtOnce = 500;

    private static readonly string[] Doors = ["/sign-in", "/passkeys", "/set-up/first", "/api/v1/devices/this/enrolment"];

    public static IServiceCollection AddDrainboardRateLimits(this IServiceCollection services) => services.AddRateLimiter(limits =>
    {
        limits.GlobalLimiter = PartitionedRateLimiter.Create<HttpContext, string>(http =>
            IsDoor(http.Request) ? RateLimitPartition.GetFixedWindowLimiter($"door {AddressOf(http)}", _ => new() { PermitLimit = DoorsPerMinute, Window = TimeSpan.FromMinutes(1) })
            : http.Request.Path.StartsWithSegments("/api") && !IsLocal(http) ? RateLimitPartition.GetTokenBucketLimiter($"api {AddressOf(http)}", _ => new() { TokenLimit = CallsAtOnce, TokensPerPeriod = CallsPerSecond, ReplenishmentPeriod = TimeSpan.FromSeconds(1) })
            : RateLimitPartition.GetNoLimiter(""));
        limits.OnRejected = RefuseAsync;
    });

    private static async ValueTask RefuseAsync(OnRejectedContext context, CancellationToken stop)
    {
        var http = context.HttpContext;
        http.RequestServices.GetRequiredService<SecurityLog>().Refused("too much at once", http);
        http.Response.Headers.RetryAfter = context.Lease.TryGetMetadata(MetadataName.RetryAfter, out var after) ? $"{Math.Ceiling(after.TotalSeconds):0}" : "1";
        http.Response.StatusCode = StatusCodes.Status429TooManyRequests;
        if (http.Request.Path.StartsWithSegments("/api") || http.Request.Path.StartsWithSegments("/passkeys"))
        {
            await AnswerHttp.Problem(StatusCodes.Status429TooManyRequests, "Too much at once", "This address asks too often. Wait as long as Retry-After says, then send the same again.", "too-often").ExecuteAsync(http);
        }
    }

    private static bool IsDoor(HttpRequest request) => HttpMethods.IsPost(request.Method) && Doors.Any(door => request.Path.StartsWithSegments(door));

    private static bool IsLocal(HttpContext http) => http.Connection.RemoteIpAddress is not { } address || IPAddress.IsLoopback(address);

    // Whoever has one IPv6 address has the 2^64 beside it.
    private static string AddressOf(HttpContext http) =>
        http.Connection.RemoteIpAddress is not { } address ? ""
        : address.AddressFamily == System.Net.Sockets.AddressFamily.InterNetworkV6 && !address.IsIPv4MappedToIPv6 ? Convert.ToHexString(address.GetAddressBytes().AsSpan(0, 8))
        : address.ToString();
}
