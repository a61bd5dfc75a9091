using Drainboard.Domain;

namespace Drainboard.Web.Features.Deferrals;

internal static class NoDeferral
{
    public static Refusal Refusal { get; } = new("no-deferral", "No deferral is proposed or running on this defect.");
}
