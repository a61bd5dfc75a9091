namespace Drainboard.Domain.Deferrals;

/// <summary>Whether a clock may be given more days, apart from whether it has lapsed.</summary>
public static class ExtensionRule
{
    /// <param name="interval">The interval in the item or of the category, in calendar days; null where the item counts in other units only.</param>
    /// <param name="before">How many extensions it has had.</param>
    public static Refusal? WhyNot(DeferralPolicy policy, Category category, int? interval, int before, int days, bool isApproved)
    {
        if (policy.Extendable.For(category) is not { } extendable || policy.MaxExtensions is not { } most || (category == Category.A && extendable && policy.ApprovalBeforeA is null))
        {
            return new Refusal("set-by-operator", $"The policy \"{policy.Name}\" leaves to the operator whether category {category} is extended, and how often. Set it in your own policy first.");
        }

        var longest = policy.MaxExtensionDays is { } set && interval is { } own ? Math.Min(set, own) : interval ?? 0;
        return !extendable
                ? new Refusal("not-extendable", $"Under \"{policy.Name}\" category {category} is not extended ({policy.SourceOf(PolicyFields.Extendable).Source}).")
            : before >= most
                ? new Refusal("extended-before", $"It has been extended {before} time{(before == 1 ? "" : "s")}; \"{policy.Name}\" allows {most} ({policy.SourceOf(PolicyFields.MaxExtensions).Source}).")
            : interval is null
                ? new Refusal("not-in-days", "This item is not limited in calendar days, and an extension adds days. Nothing here can be extended.")
            : days <= 0 || days > longest
                ? new Refusal("extension-too-long", $"An extension is 1 to {longest} days: no longer than the interval in the MEL ({policy.SourceOf(PolicyFields.MaxExtension).Source}).")
            : category == Category.A && policy.ApprovalBeforeA == true && !isApproved
                ? new Refusal("approval-before", $"Under \"{policy.Name}\" category A is extended only with approval beforehand ({policy.SourceOf(PolicyFields.ApprovalBefore).Source}). Until then the aircraft is not dispatched beyond the interval.")
            : null;
    }
}
