using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Records;
using Drainboard.Web.Features.Door;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.SetUp;

/// <summary>Changes one value of numbers that an installation goes by: what its handlers have in common.</summary>
internal static class ChangeTerms
{
    /// <param name="kind">What goes on record, with <paramref name="words"/> for it and each number before and after.</param>
    public static Task<Answer> AtAsync<TTerms>(OneDoor door, Call call, Act act, TTerms terms, Func<Installation, TTerms> read, Func<Installation, TTerms, Refusal?> change, string kind, string words, string done, CancellationToken stop)
        where TTerms : class =>
        door.ChangeAsync(call, act, terms, async attempt =>
        {
            var installation = await attempt.Db.Installations.SingleAsync(attempt.Stop);
            if (call.SeenVersion is { } seen && seen != installation.Version)
            {
                return new Answer.Stale(installation.Version);
            }

            var before = read(installation);
            if (change(installation, terms) is { } no)
            {
                return no;
            }

            attempt.Record(Terms.Changed(kind, words, before, terms));
            attempt.Touch(installation);
            return attempt.Done(Guid.Empty, () => installation.Version, done);
        }, stop);
}
