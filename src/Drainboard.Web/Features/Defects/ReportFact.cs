using Drainboard.Domain.Defects;
using Drainboard.Domain.Records;

namespace Drainboard.Web.Features.Defects;

internal static class ReportFact
{
    public static Fact Of(Report report, Defect defect) =>
        defect.Fact("report.received", $"Reported: {report.Symptom.Words().ToLowerInvariant()} at {report.Position}. {(report.Leak == LeakAnswer.Leaking ? $"Leaking: {report.LeakWhere}" : report.Leak.Words())}.{(report.Words.Length > 0 ? $" \"{report.Words}\"" : "")}")
            .With("report", report.Id.Value).With("position", report.Position.Value).With("symptom", report.Symptom).With("leak", report.Leak).With("leakWhere", report.LeakWhere)
            .With("phase", report.Phase).With("reporterWords", report.Words).With("seenAt", report.SeenAt).With("savedAt", report.SavedAt).With("receivedAt", report.ReceivedAt).With("log", report.Log?.ToString()).With("loggedAt", report.Log?.LoggedAt);
}
