using Drainboard.Web.Features.SetUp;

namespace Drainboard.Web.Hosting;

/// <summary>The sub-commands of the executable. Each that works on the data builds the same host as the web service and does one thing with it.</summary>
internal sealed class CommandLine
{
    private readonly Func<Task<int>> _run;

    private CommandLine(Func<Task<int>> run) => _run = run;

    public static CommandLine? Find(string[] args) => args switch
    {
        ["import", ..] => OnHost(services => ImportCommand.RunAsync(services, args[1..])),
        ["migrate"] => OnHost(services => MigrateAsync(services, null)),
        ["migrate", "--for", var role] => OnHost(services => MigrateAsync(services, role)),
        ["load-demo", ..] => OnHost(LoadDemoAsync),
        ["verify-record", ..] => OnHost(services => Features.Records.VerifyCommand.RunAsync(services, args[1..])),
        ["backup", ..] => OnHost(services => Features.Records.BackupCommand.BackUpAsync(services, args[1..])),
        ["restore", ..] => OnHost(services => Features.Records.BackupCommand.RestoreAsync(services, args[1..])),
        ["verify-backup", ..] => OnHost(services => Features.Records.BackupCommand.VerifyAsync(services, args[1..])),
        ["ask-no-passkeys"] => OnHost(PasskeysCommand.RunAsync),
        ["healthcheck", .. var rest] => new(() => HealthAsync(rest.FirstOrDefault() ?? "http://localhost:8080")),
        ["help" or "--help" or "-h", ..] => new(() => HelpAsync(0)),
        [var word, ..] when !word.StartsWith('-') => new(() => HelpAsync(2, word)),
        _ => null,
    };

    public Task<int> RunAsync() => _run();

    private static CommandLine OnHost(Func<IServiceProvider, Task<int>> run) => new(async () =>
    {
        try
        {
            await using var app = WebHost.Build(["--Serilog:MinimumLevel:Default=Warning"]);
            return await run(app.Services);
        }
        catch (StartRefusedException refused)
        {
            Console.Error.WriteLine(refused.Message);
            return 1;
        }
        catch (System.Data.Common.DbException failure)
        {
            Console.Error.WriteLine($"The database cannot be used: {failure.Message} Check DRAINBOARD_DATA and DRAINBOARD_DATABASE: they name the installation to work on.");
            return 1;
        }
    });

    private static async Task<int> MigrateAsync(IServiceProvider services, string? role)
    {
        await services.GetRequiredService<FirstRun>().MigrateAsync(CancellationToken.None);
        if (role is not null)
        {
            await services.GetRequiredService<ServiceRole>().GrantAsync(role, CancellationToken.None);
        }

        Console.WriteLine(role is null ? "The database is up to date." : $"The database is up to date, and {role} may run the service on it: it cannot change or remove what is on record.");
        return 0;
    }

    private static async Task<int> LoadDemoAsync(IServiceProvider services)
    {
        var first = services.GetRequiredService<FirstRun>();
        await first.MigrateAsync(CancellationToken.None);
        var secret = await services.GetRequiredService<Features.Demo.DemoLoader>().LoadAsync(CancellationToken.None);
        Console.WriteLine($"Demo loaded. Its API key, with every scope: {secret}");
        return 0;
    }

    private static async Task<int> HealthAsync(string address)
    {
        using var client = new HttpClient { Timeout = TimeSpan.FromSeconds(5) };
        try
        {
            using var answer = await client.GetAsync(new Uri($"{address.TrimEnd('/')}/health/ready"));
            return answer.IsSuccessStatusCode ? 0 : 1;
        }
        catch (Exception failure) when (failure is HttpRequestException or TaskCanceledException)
        {
            Console.Error.WriteLine(failure.Message);
            return 1;
        }
    }

    private static Task<int> HelpAsync(int code, string? unknown = null)
    {
        if (unknown is not null)
        {
            Console.Error.WriteLine($"\"{unknown}\" is not a command.");
        }

        Console.WriteLine(
            """
            Drainboard.Web                        start the web service
            Drainboard.Web import FOLDER [--dry]  check and import CSV or JSON files; --dry only checks
            Drainboard.Web migrate [--for ROLE]   bring the database up to date; with --for, let a PostgreSQL role run the service that cannot alter the record
            Drainboard.Web load-demo              load the invented demo airline into an empty database
            Drainboard.Web verify-record [--seals FILE]   walk every chain and seal of the record; exit code 1 at a break
            Drainboard.Web verify-record --export FILE    check an exported chain by itself
            Drainboard.Web backup FOLDER          copy the data, photos included, while the service runs
            Drainboard.Web restore FOLDER         bring a backup into an empty database and prove its record
            Drainboard.Web verify-backup FOLDER   try a restore aside; exit code 1 when it does not hold
            Drainboard.Web ask-no-passkeys        the way back in when the passkeys of all administrators are lost: no role needs one any more
            Drainboard.Web healthcheck [ADDRESS]  exit code 0 when the service is ready

            Settings (environment): DRAINBOARD_DATA, DRAINBOARD_DATABASE, DRAINBOARD_DEMO=off, DRAINBOARD_MAIL, DRAINBOARD_PROXY; see docs/operations.md
            """);
        return Task.FromResult(code);
    }
}
