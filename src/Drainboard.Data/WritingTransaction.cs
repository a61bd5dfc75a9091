using System.Security.Cryptography;
using Drainboard.Data.Records;
using Drainboard.Data.Recurrence;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using Drainboard.Domain.Recurrence;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.ChangeTracking;

namespace Drainboard.Data;

/// <summary>One save: numbers, versions, sealed entries, change rows and the command, all or nothing.</summary>
internal sealed class WritingTransaction(DrainboardDb db, Writing writing)
{
    // A bulk load says "many" once: whoever follows reads again in any case.
    private const int MostChanges = 50;

    private readonly List<ChainHead> _heads = [];

    public async Task RunAsync(CancellationToken stop)
    {
        using var turn = await db.EnterWriteAsync(stop);

        // All or nothing: there is nothing to go back to within it.
        db.Database.AutoSavepointsEnabled = false;
        await using var transaction = await db.Database.BeginTransactionAsync(stop);
        await SealAsync(stop);
        await NumberDefectsAsync(stop);
        await new RepeatFlags(db).FollowAsync(stop);
        RaiseVersions(db);
        NoteChanges();
        if (writing.Command is { } command)
        {
            db.Commands.Add(new Command(command.Id, writing.Actor.Person, command.PayloadHash, writing.Answer?.Invoke() ?? "", writing.Now));
        }

        var rule = db.ChangeTracker.Entries<Installation>().Where(entry => entry.State == EntityState.Modified && entry.Property(installation => installation.RepeatRule).IsModified).Select(entry => entry.Entity.RepeatRule).SingleOrDefault();
        await db.SaveChangesAsync(stop);
        if (rule is not null)
        {
            await RecountAsync(RepeatRule.Find(rule), stop);
        }

        await transaction.CommitAsync(stop);

        // Whoever saves next moves them on: another save of this context reads them anew.
        _heads.ForEach(head => db.Entry(head).State = EntityState.Detached);
    }

    // Another rule judges everything anew, tail by tail, so that no more than one tail's write-ups are held at once.
    private async Task RecountAsync(RepeatRule rule, CancellationToken stop)
    {
        foreach (var tail in await db.Tails.Select(tail => tail.Id).ToArrayAsync(stop))
        {
            db.ChangeTracker.Clear();
            await new RepeatFlags(db).RecountAsync(rule, tail, stop);
            RaiseVersions(db);
            await db.SaveChangesAsync(stop);
        }
    }

    // Chains are locked in the order of their keys: two writers that need the same two never wait for each other.
    private async Task SealAsync(CancellationToken stop)
    {
        foreach (var chain in writing.Deeds.GroupBy(deed => deed.Fact.Chain).OrderBy(group => group.Key.Value, StringComparer.Ordinal))
        {
            var head = await db.LockHeadAsync(chain.Key, stop);
            _heads.Add(head);
            foreach (var (fact, by, at) in chain)
            {
                var salt = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(16));
                var signer = RecordSigner.HashOf(salt, by.Name, by.Authorisation?.Number);
                var entry = RecordEntry.Seal(fact, head.Number + 1, head.Hash, signer, at);
                head.Advance(entry);
                db.Record.Add(entry);
                db.Signers.Add(new RecordSigner(entry.Chain, entry.Number, by.Person, by.Name, by.Authorisation?.Number, salt));
            }
        }
    }

    // The tail's chain is locked by now, so the numbers it gives out are its own.
    private async Task NumberDefectsAsync(CancellationToken stop)
    {
        var next = new Dictionary<TailId, int>();
        foreach (var defect in Added<Defect>().Where(defect => defect.Number == 0).OrderBy(defect => defect.ReceivedAt))
        {
            if (!next.TryGetValue(defect.Tail, out var number))
            {
                number = await db.Defects.Where(other => other.Tail == defect.Tail).MaxAsync(other => (int?)other.Number, stop) ?? 0;
            }

            defect.Give(next[defect.Tail] = number + 1);
        }
    }

    public static void RaiseVersions(DrainboardDb db)
    {
        foreach (var entry in db.ChangeTracker.Entries().Where(entry => entry.State == EntityState.Modified))
        {
            if (VersionOf(entry) is { } version)
            {
                version.CurrentValue = (long)version.OriginalValue! + 1;
            }
        }
    }

    private void NoteChanges()
    {
        var about = writing.Deeds.Select(deed => (deed.Fact.Kind, deed.Fact.Subject)).Distinct().ToArray();
        if (about.Length > MostChanges)
        {
            about = [("many", Guid.Empty)];
        }

        db.Changes.AddRange(about.Select(one => new Change(one.Kind, one.Subject, writing.Now)));
    }

    private IEnumerable<T> Added<T>()
        where T : class => db.ChangeTracker.Entries<T>().Where(entry => entry.State == EntityState.Added).Select(entry => entry.Entity);

    private static PropertyEntry? VersionOf(EntityEntry entry) =>
        entry.Metadata.FindProperty("Version") is { IsConcurrencyToken: true } ? entry.Property("Version") : null;
}
