using Drainboard.Domain;

namespace Drainboard.Web.Features.Cards;

internal static class NoJob
{
    public static Refusal Refusal { get; } = new("no-job", "No work card runs on this item now: it was finished or left. Open the item again.");
}
