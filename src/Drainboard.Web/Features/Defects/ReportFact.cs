using Drainboard.Domain.Defects;
using Drainboard.Domain.Records;

namespace Drainboard.Web.Features.Defects;

internal static class ReportFact
{
    public static Fact Of(Report report, Defect defect) =>
        Of(report, defect.Fact("report.received", $"Reported: {report.Symptom.Words().ToLowerInvariant()} at {report.Position}. {(report.Leak == LeakAnswer.Leaking ? $"Leaking: {report.LeakWhere}" : report.Leak.Words())}.{(report.Words.Length > 0 ? $" \"{report.Words}\"" : "")}"));

    /// <summary>Everything that the person and the device said, on the fact of how it was taken in.</summary>
    public static Fact Of(Report report, Fact fact) =>
        fact.With("report", report.Id.Value).With("position", report.Position.Value).With("symptom", report.Symptom).With("leak", report.Leak).With("leakWhere", report.LeakWhere)
            .With("others", report.Others).With("alsoAt", string.Join(" ", report.AlsoAt)).With("phase", report.Phase).With("reporterWords", report.Words)
            .With("seenAt", report.SeenAt).With("savedAt", report.SavedAt).With("offsetMinutes", report.OffsetMinutes?.ToString(System.Globalization.CultureInfo.InvariantCulture)).With("sentAt", report.SentAt).With("device", report.Device?.ToString()).With("receivedAt", report.ReceivedAt).With("log", report.Log?.ToString()).With("loggedAt", report.Log?.LoggedAt);
}
