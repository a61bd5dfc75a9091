using Drainboard.Domain;
using Drainboard.Domain.Defects;
using Drainboard.Web.Features.Cards;
using Drainboard.Web.Features.Items;

namespace Drainboard.Web.Features.Defects;

/// <summary>What stands against closing an item without a signature: a work card that runs, or something not restored.</summary>
internal static class WhyNotClosed
{
    public static async Task<Refusal?> AskAsync(Item item) =>
        item.Defect.State == DefectState.Closed ? null
        : item.Disturbed.WhyNotClose() is { } disturbed ? disturbed
        : await OpenJob.RunningOnAsync(item.Attempt.Db, item.Defect.Id, item.Attempt.Stop) is { } running ? new Refusal("job-runs", $"The work card \"{running.Card.Title}\" runs here. Leave it and say why, then close the item.")
        : null;
}
