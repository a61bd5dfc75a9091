using Drainboard.Data;
using Drainboard.Data.Accounts;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Lavatories;
using Drainboard.Domain.OnBoard;
using Drainboard.Domain.Records;
using Drainboard.Web.Features.Cards;
using Drainboard.Web.Features.SetUp;
using Drainboard.Web.Hosting;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Demo;

/// <summary>
/// Loads Marram Air, an invented airline: the files in seed/ through the importer, then turns and eighteen months of history
/// made from a fixed seed through the domain's own methods, all relative to the moment of loading.
/// </summary>
public sealed class DemoLoader(IDbContextFactory<DrainboardDb> factory, Importer importer, IPasswordHasher<Person> hasher, IClock clock, ILogger<DemoLoader> log)
{
    /// <summary>The user name behind the demo's API key: a service account that may do everything.</summary>
    public const string ServiceAccount = "demo.integration";

    /// <summary>The signing code of every invented person.</summary>
    public const string SigningCode = "marram-7";

    /// <summary>Everybody's PIN at a shared device in the demo.</summary>
    public const string Pin = "731946";

    public static string SeedFolder { get; } = Path.Combine(AppContext.BaseDirectory, "seed");

    /// <returns>The secret of an API key with every scope.</returns>
    public async Task<string> LoadAsync(CancellationToken stop)
    {
        await using (var db = await factory.CreateDbContextAsync(stop))
        {
            if (await db.Installations.AnyAsync(stop) || await db.Tails.AnyAsync(stop))
            {
                throw new StartRefusedException("The demo loads only into an empty database. Choose another data folder, or start with an empty one.");
            }
        }

        log.LogInformation("Loading the demo airline; this takes some seconds");
        // Whole minutes: nobody writes seconds into a log.
        var now = Instant.FromUnixTimeSeconds(clock.GetCurrentInstant().ToUnixTimeSeconds() / 60 * 60);
        await ImportAsync(stop);
        var secret = await MakeAccountsAsync(now, stop);
        await ExampleCards.PublishAsync(factory, now, stop);
        await WriteCrewNotesAsync(now, stop);
        await new DemoSchedule(factory, now).SaveAsync(stop);
        await new DemoHistory(factory, now).SaveAsync(stop);
        await new DemoWater(factory, now).SaveAsync(stop);
        await new DemoTanks(factory, now).SaveAsync(stop);
        await new DemoChecks(factory, now).SaveAsync(stop);

        // Last: a load that was cut short leaves no installation and is refused as not empty, never taken for whole.
        await using var last = await factory.CreateDbContextAsync(stop);
        var installation = new Installation("Marram Air (invented)", true, now);
        installation.ChangeToiletMinimums([new ToiletMinimum("W3", 6, 8, false, false), new ToiletMinimum("", 2, 1, false, true)]);
        last.Installations.Add(installation);
        await last.SaveAsync(new Writing(Actor.Installation, now, [new Deed(new Fact(ChainKey.Operator, "demo.loaded", Guid.Empty, "The invented demo airline was loaded."), Actor.Installation, now)]), stop);
        return secret;
    }

    private async Task ImportAsync(CancellationToken stop)
    {
        var report = await importer.RunAsync(await ImportSource.ReadFolderAsync(SeedFolder, stop), dry: false, Actor.Installation, stop);
        if (!report.Clean)
        {
            throw new StartRefusedException($"The demo's own files have faults, first: {report.Faults[0].File} {report.Faults[0].Words}");
        }
    }

    private async Task WriteCrewNotesAsync(Instant now, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        foreach (var (layout, area, words) in new[]
        {
            ("N1", "Aft", "Both aft sinks share one line, and grounds stop it. Filter papers go into the bin, whole; no milk into sink 2."),
            ("W2", "Mid", "Mid galley: no juice with pulp and no yoghurt into either sink."),
            ("W3", "Aft", "Grey water goes to the waste tank here. Nothing hot and no ice in quantity into the aft sinks."),
        })
        {
            var note = new CrewNote(layout, area);
            note.Write(words, "Marram Air engineering (invented)", now);
            db.CrewNotes.Add(note);
        }

        await db.SaveAsync(new Writing(Actor.Installation, now, []), stop);
    }

    private async Task<string> MakeAccountsAsync(Instant now, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var (signing, pin) = (hasher.HashPassword(new Person(), SigningCode), hasher.HashPassword(new Person(), Pin));
        foreach (var person in await db.Users.ToArrayAsync(stop))
        {
            (person.IsDemo, person.SigningCodeHash, person.PinHash) = (true, signing, pin);
        }

        var service = new Person
        {
            Id = NewId.At(now),
            UserName = ServiceAccount,
            NormalizedUserName = ServiceAccount.ToUpperInvariant(),
            Name = "Demo integration",
            Roles = [.. Enum.GetValues<Role>()],
            AuthorisationNumber = "MA-X-0001",
            AuthorisationKind = "demo authorisation",
            Organisation = "Marram Air (invented)",
            AuthorisationApproval = "QQ.145.0001",
            SigningCodeHash = signing,
            LockoutEnabled = true,
            SecurityStamp = NewId.At(now).ToString("N"),
        };
        var secret = ApiKey.NewSecret();
        db.Users.Add(service);
        db.ApiKeys.Add(new ApiKey(NewId.At(now), "Demo key", new PersonId(service.Id), Enum.GetValues<ApiScope>(), now, now + ApiKey.Longest, secret));
        await db.SaveAsync(new Writing(Actor.Installation, now, []), stop);
        return secret;
    }
}
