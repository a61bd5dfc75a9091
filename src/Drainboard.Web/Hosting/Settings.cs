using System.Net;
using Drainboard.Data;
using Drainboard.Web.Features.Warnings;

namespace Drainboard.Web.Hosting;

/// <summary>
/// The few settings there are: DRAINBOARD_DATABASE or, as a secret in a file, DRAINBOARD_DATABASE_FILE (absent: the embedded database), DRAINBOARD_DATA (the folder for it),
/// DRAINBOARD_DEMO=off, DRAINBOARD_MAIL or DRAINBOARD_MAIL_FILE (a mail server for warnings), DRAINBOARD_SEALS_TO (who gets every seal by mail), DRAINBOARD_PROXY (whose word about callers is taken). The demo loads only where neither of the first and last is set and the database is empty.
/// </summary>
public sealed record Settings(DatabaseAddress Database, string DataFolder, bool DemoAllowed, MailSettings? Mail = null)
{
    /// <summary>DRAINBOARD_SEALS_TO: addresses that every seal of the record is mailed to, with commas between.</summary>
    public IReadOnlyList<string> SealsTo { get; init; } = [];

    /// <summary>DRAINBOARD_PROXY: addresses or networks of the balancer, whose word about who calls and whether it was over TLS is taken. Nobody else's is.</summary>
    public IReadOnlyList<IPNetwork> Proxies { get; init; } = [];

    /// <summary>DRAINBOARD_HOST: the name under which people reach it. Passkeys belong to it, and no other name is answered to (this machine's own aside). Unset: any name.</summary>
    public string? Host { get; init; }

    /// <summary>DRAINBOARD_DRAIN: for how many seconds it says "not ready" and serves on before it stops. Unset: it stops at once.</summary>
    public TimeSpan Drain { get; init; }

    public static Settings Read(IConfiguration configuration) => ReadMost(configuration) with { Proxies = ProxiesOf(configuration["DRAINBOARD_PROXY"]), Drain = DrainOf(configuration["DRAINBOARD_DRAIN"]), Host = HostOf(configuration["DRAINBOARD_HOST"]) };

    private static string? HostOf(string? text) =>
        string.IsNullOrWhiteSpace(text) ? null
        : Uri.CheckHostName(text.Trim()) == UriHostNameType.Dns ? text.Trim()
        : throw new StartRefusedException($"DRAINBOARD_HOST: \"{text}\" is not a host name such as drainboard.example.org, without https:// and port.");

    private static TimeSpan DrainOf(string? text) =>
        string.IsNullOrWhiteSpace(text) ? TimeSpan.Zero
        : int.TryParse(text, out var seconds) && seconds >= 0 && seconds <= 600 ? TimeSpan.FromSeconds(seconds)
        : throw new StartRefusedException($"DRAINBOARD_DRAIN: \"{text}\" is not a number of seconds from 0 to 600.");

    private static Settings ReadMost(IConfiguration configuration)
    {
        var folder = Path.GetFullPath(configuration["DRAINBOARD_DATA"] is { Length: > 0 } set ? set : DefaultFolder());
        var database = configuration["DRAINBOARD_DATABASE_FILE"] is { Length: > 0 } file ? ReadSecret("DRAINBOARD_DATABASE_FILE", file) : configuration["DRAINBOARD_DATABASE"];
        var mail = MailSettings.Parse(configuration["DRAINBOARD_MAIL_FILE"] is { Length: > 0 } mailFile ? ReadSecret("DRAINBOARD_MAIL_FILE", mailFile) : configuration["DRAINBOARD_MAIL"]);
        if (string.IsNullOrWhiteSpace(database))
        {
            return new Settings(DatabaseAddress.Embedded(Path.Combine(folder, "drainboard.db")), folder, !IsOff(configuration["DRAINBOARD_DEMO"]), mail) { SealsTo = AddressesOf(configuration["DRAINBOARD_SEALS_TO"], mail) };
        }

        try
        {
            return new Settings(DatabaseAddress.Parse(database), folder, false, mail) { SealsTo = AddressesOf(configuration["DRAINBOARD_SEALS_TO"], mail) };
        }
        catch (FormatException failure)
        {
            throw new StartRefusedException(failure.Message, failure);
        }
    }

    private static IPNetwork[] ProxiesOf(string? text) =>
    [
        .. (text ?? "").Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries).Select(one =>
            IPAddress.TryParse(one, out var address) ? new IPNetwork(address, address.GetAddressBytes().Length * 8)
            : IPNetwork.TryParse(one, out var network) ? network
            : throw new StartRefusedException($"DRAINBOARD_PROXY: \"{one}\" is neither an address nor a network. Write 10.0.0.5 or 10.0.0.0/24, several with commas between.")),
    ];

    private static string[] AddressesOf(string? text, MailSettings? mail)
    {
        var addresses = (text ?? "").Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        return addresses.FirstOrDefault(address => !System.Net.Mail.MailAddress.TryCreate(address, out _)) is { } bad ? throw new StartRefusedException($"DRAINBOARD_SEALS_TO: \"{bad}\" is not an e-mail address. Write one or more, with commas between.")
            : addresses.Length > 0 && mail is null ? throw new StartRefusedException("DRAINBOARD_SEALS_TO is set, but DRAINBOARD_MAIL names no mail server. Set both, or neither.")
            : addresses;
    }

    private static string ReadSecret(string name, string file)
    {
        try
        {
            return File.ReadAllText(file).Trim();
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            throw new StartRefusedException($"{name} names {file}, which cannot be read: {failure.Message}", failure);
        }
    }

    /// <summary>"data" at the repository's root when run from source, beside the program when published.</summary>
    private static string DefaultFolder()
    {
        for (var at = new DirectoryInfo(AppContext.BaseDirectory); at is not null; at = at.Parent)
        {
            if (File.Exists(Path.Combine(at.FullName, "Drainboard.slnx")))
            {
                return Path.Combine(at.FullName, "data");
            }
        }

        return Path.Combine(AppContext.BaseDirectory, "data");
    }

    private static bool IsOff(string? value) => value is not null && (value.Equals("off", StringComparison.OrdinalIgnoreCase) || value == "0" || value.Equals("false", StringComparison.OrdinalIgnoreCase));
}
