using System.Diagnostics;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using System.Text.Json.Serialization;
using Drainboard.Data;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Web.Features.Live;
using Drainboard.Web.Hosting;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Door;

/// <summary>
/// The one way in which anything changes: check the right to ask, give the stored answer if this wish was carried out before,
/// else try it, and save state, record, change row and answer in one transaction.
/// </summary>
public sealed class OneDoor(IDbContextFactory<DrainboardDb> factory, IClock clock, ChangeFeed feed, SecurityLog log)
{
    // A wish that says no version seen is about adding: whoever was faster is read, and it is tried again.
    private const int Tries = 30;

    // Far beyond what a person types on one form, far below what could hurt.
    private const int LargestWish = 20_000;

    /// <summary>A whole drawing: a thousand fixtures and pipes.</summary>
    public const int LargestDrawing = 400_000;

    private static readonly JsonSerializerOptions Json = Wire.Configure(new JsonSerializerOptions());

    // What was left out counts as its default: a member that a later version adds does not make another wish of one that is sent again.
    private static readonly JsonSerializerOptions WishJson = new(Json) { DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingDefault };

    /// <param name="wish">Everything that was asked for, ids included: its hash tells a repeated wish from another one.</param>
    /// <param name="largest">How many characters it may have.</param>
    public async Task<Answer> ChangeAsync(Call call, Act act, object wish, Func<Attempt, Task<Answer>> attempt, CancellationToken stop, int largest = LargestWish)
    {
        using var span = Instruments.Source.StartActivity($"act {act}");
        var began = Stopwatch.GetTimestamp();
        var answer = await AnswerAsync(call, act, wish, attempt, largest, stop);
        Instruments.Acts.Record(Stopwatch.GetElapsedTime(began).TotalSeconds, new("act", act.ToString()), new("answer", answer.GetType().Name));
        if (answer is Answer.NotAllowed not)
        {
            log.NotAllowedAtTheDoor(call.Actor.Person.Value, not.Refusal.Code, act.ToString());
        }

        span?.SetTag("answer", answer.GetType().Name);
        return answer;
    }

    private async Task<Answer> AnswerAsync(Call call, Act act, object wish, Func<Attempt, Task<Answer>> attempt, int largest, CancellationToken stop)
    {
        for (var left = Tries; ; left--)
        {
            var (answer, raced) = await TryAsync(call, act, wish, attempt, largest, stop);
            if (!raced || call.SeenVersion is not null || left <= 1)
            {
                return answer;
            }
        }
    }

    /// <returns>The answer, and whether somebody else was faster in between.</returns>
    private async Task<(Answer Answer, bool Raced)> TryAsync(Call call, Act act, object wish, Func<Attempt, Task<Answer>> attempt, int largest, CancellationToken stop)
    {
        if (Permissions.WhyNot(call.Actor, act) is { } no)
        {
            return (new Answer.NotAllowed(no), false);
        }

        if (FindText(wish) is not { } text)
        {
            return (new Refusal("number", "A number in this is too large to be one. Look at what was entered."), false);
        }

        if (text.Length > largest)
        {
            return (new Refusal("too-long", $"This has {text.Length} characters; {largest} fit. Shorten it."), false);
        }

        if (call.Command == Guid.Empty || text.Contains("\\u0000", StringComparison.Ordinal))
        {
            return (new Refusal("id-or-text", "Send an id of your own making (not all zeros), and text without control characters."), false);
        }

        var key = new CommandKey(call.Command, HashOf(act, text));
        await using var db = await factory.CreateDbContextAsync(stop);
        if (await FindEarlierAsync(db, call, key, stop) is { } earlier)
        {
            return (earlier, false);
        }

        var trying = new Attempt(db, clock.GetCurrentInstant(), call.Actor, stop);
        try
        {
            var answer = await attempt(trying);
            return answer is Answer.Done done ? (await SaveAsync(trying, act, done, key), false)
                : answer is Answer.Stale ? (await FindEarlierAsync(db, call, key, stop) ?? answer, false)
                : (answer, false);
        }
        catch (DbUpdateConcurrencyException)
        {
            // Somebody was faster; it may have been this same wish, sent twice.
            await using var fresh = await factory.CreateDbContextAsync(stop);
            return await FindEarlierAsync(fresh, call, key, stop) is { } same ? (same, false) : (new Answer.Stale(0), true);
        }
        catch (DbUpdateException failure) when (db.IsDuplicateKey(failure))
        {
            // Somebody was faster: the same wish twice at once, or the same id for two things.
            await using var fresh = await factory.CreateDbContextAsync(stop);
            return await FindEarlierAsync(fresh, call, key, stop) is { } same ? (same, false) : (new Answer.OtherWish(), true);
        }
    }

    private async Task<Answer> SaveAsync(Attempt trying, Act act, Answer.Done done, CommandKey key)
    {
        var settled = done;
        await trying.Db.SaveAsync(new Writing(trying.Actor, trying.Now, trying.Deeds, key, () => JsonSerializer.Serialize(settled = trying.Settle(done), Json)), trying.Stop);
        feed.Ring();
        if (act is (Act.SetPassword or Act.SetPin or Act.SetSigningCode))
        {
            log.SecretChanged(trying.Actor.Person.Value, act.ToString());
        }

        return settled;
    }

    private static async Task<Answer?> FindEarlierAsync(DrainboardDb db, Call call, CommandKey key, CancellationToken stop)
    {
        var earlier = await db.Commands.AsNoTracking().SingleOrDefaultAsync(command => command.Id == key.Id, stop);
        return earlier is null ? null
            : earlier.Person == call.Actor.Person && earlier.PayloadHash == key.PayloadHash ? JsonSerializer.Deserialize<Answer.Done>(earlier.Answer, Json)
            : new Answer.OtherWish();
    }

    // A number such as 1e400 is read as infinite, which nothing here is.
    private static string? FindText(object wish)
    {
        try
        {
            return WishText(wish);
        }
        catch (ArgumentException)
        {
            return null;
        }
    }

    internal static string WishText(object wish) => JsonSerializer.Serialize(wish, wish.GetType(), WishJson);

    private static string HashOf(Act act, string wish) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes($"{act} {wish}")));
}
