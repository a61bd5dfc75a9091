using Drainboard.Domain.Records;
using Drainboard.Web.Features.SetUp;

namespace Drainboard.Web.Features.Paper;

/// <summary>What every paper says of itself: what governs.</summary>
internal static class Notices
{
    public static string Of(InstallationView installation) =>
        installation.Mode == LogMode.BesideLog ? "Working copy. The aircraft log governs; this is not a release." : $"The record of {installation.OperatorName}, under {installation.ApprovalReference}.";
}
