using System.Globalization;
using System.Reflection;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Isolation;
using Drainboard.Domain.Records;
using Drainboard.Web.Features.Door;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Isolation;

public sealed class ChangeAdviceHandler(OneDoor door)
{
    /// <summary>Every term, in the order of the table that people edit.</summary>
    internal static IReadOnlyList<PropertyInfo> Members { get; } = [.. typeof(AdviceTerms).GetProperties(BindingFlags.Public | BindingFlags.Instance).Where(member => member.CanWrite)];

    public Task<Answer> HandleAsync(Call call, AdviceTerms terms, CancellationToken stop) =>
        door.ChangeAsync(call, Act.ChangeAdvice, terms, async attempt =>
        {
            var installation = await attempt.Db.Installations.SingleAsync(attempt.Stop);
            if (call.SeenVersion is { } seen && seen != installation.Version)
            {
                return new Answer.Stale(installation.Version);
            }

            var before = installation.Advice;
            if (installation.ChangeAdvice(terms) is { } no)
            {
                return no;
            }

            var changed = Members.Where(member => !Equals(member.GetValue(before), member.GetValue(terms))).ToArray();
            var fact = new Fact(ChainKey.Operator, "advice.changed", Guid.Empty, $"What advice goes by was changed: {(changed.Length == 0 ? "nothing" : string.Join(", ", changed.Select(member => $"{member.Name} {Say(member, before)} to {Say(member, terms)}")))}.");
            foreach (var member in changed)
            {
                fact.With(member.Name, Say(member, terms));
            }

            attempt.Record(fact);
            attempt.Touch(installation);
            return attempt.Done(Guid.Empty, () => installation.Version, "Saved. Advice goes by it from now on.");
        }, stop);

    private static string Say(PropertyInfo member, AdviceTerms terms) => Convert.ToString(member.GetValue(terms), CultureInfo.InvariantCulture)!;
}
