using System.Collections.Concurrent;
using Drainboard.Data.Accounts;
using NodaTime;

namespace Drainboard.Web.Hosting;

/// <summary>
/// What happens at the doors, in the service's log under one name, for whoever watches: who signed in with what, what was refused. It names people
/// by the id of their account and callers by address; never a secret, a name or what was typed.
/// </summary>
public sealed partial class SecurityLog(ILoggerFactory loggers, IClock clock)
{
    // Said of a key once, and then for an hour no more: a line for each request would hide the others.
    private const int MostKeysInMind = 10_000;
    private static readonly Duration KeyInMind = Duration.FromHours(1);

    private readonly ConcurrentDictionary<(Guid Key, string Address), Instant> _keysInMind = [];
    private readonly ILogger _log = loggers.CreateLogger("Drainboard.Security");

    public void SignedIn(Guid person, SignInMeans means, HttpContext http) => SignedIn(person, means, From(http));

    public void SignInRefused(Guid? person, string why, HttpContext http) => SignInRefused(person, why, From(http));

    /// <summary>A key or ticket that opens nothing, a change sent from elsewhere, or too much at once.</summary>
    public void Refused(string what, HttpContext http) => Refused(what, http.Request.Method, PathOf(http), From(http));

    /// <summary>A PIN that was right, at an enrolled device.</summary>
    public void SignedInAt(Guid device, Guid person, HttpContext http) => SignedInAt(person, device, From(http));

    /// <summary>A key that opened something, from this address: the first time in an hour.</summary>
    public void KeyUsed(Guid key, Guid person, HttpContext http)
    {
        var (now, from) = (clock.GetCurrentInstant(), From(http));
        if (_keysInMind.TryGetValue((key, from), out var said) && now - said < KeyInMind)
        {
            return;
        }

        if (_keysInMind.Count >= MostKeysInMind)
        {
            _keysInMind.Clear();
        }

        _keysInMind[(key, from)] = now;
        KeyUsed(key, person, from);
    }

    public void NotAllowed(Guid person, string why, HttpContext http) => NotAllowed(person, why, http.Request.Method, PathOf(http), From(http));

    [LoggerMessage(1, LogLevel.Information, "Signed in: {Person} by {Means} from {Address}")]
    private partial void SignedIn(Guid person, SignInMeans means, string address);

    [LoggerMessage(2, LogLevel.Warning, "Sign-in refused: {Person} ({Why}) from {Address}")]
    private partial void SignInRefused(Guid? person, string why, string address);

    [LoggerMessage(3, LogLevel.Information, "Signed out: {Person}, {Count} sign-ins ended")]
    public partial void SignedOut(Guid person, int count);

    [LoggerMessage(4, LogLevel.Warning, "Refused ({What}): {Method} {Path} from {Address}")]
    private partial void Refused(string what, string method, string path, string address);

    [LoggerMessage(5, LogLevel.Warning, "Not allowed: {Person} ({Why}), {Method} {Path} from {Address}")]
    private partial void NotAllowed(Guid person, string why, string method, string path, string address);

    [LoggerMessage(6, LogLevel.Information, "Secret changed: {Person}, {What}")]
    public partial void SecretChanged(Guid person, string what);

    [LoggerMessage(7, LogLevel.Warning, "Not allowed at the door: {Person} ({Why}), {Act}")]
    public partial void NotAllowedAtTheDoor(Guid person, string why, string act);

    [LoggerMessage(8, LogLevel.Information, "Signed in: {Person} by PIN at device {Device} from {Address}")]
    private partial void SignedInAt(Guid person, Guid device, string address);

    [LoggerMessage(9, LogLevel.Information, "Key used: {Key} for {Person} from {Address}")]
    private partial void KeyUsed(Guid key, Guid person, string address);

    private static string From(HttpContext http) => http.Connection.RemoteIpAddress?.ToString() ?? "unknown";

    /// <summary>Where it went, by the pattern of the address: what stands in a secret address is not written down.</summary>
    private static string PathOf(HttpContext http) => (http.GetEndpoint() as RouteEndpoint)?.RoutePattern.RawText ?? http.Request.Path.Value ?? "";
}
