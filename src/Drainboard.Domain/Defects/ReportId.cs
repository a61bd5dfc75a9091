namespace Drainboard.Domain.Defects;

/// <summary>Identity of a report, made on the reporting device. Equality by value; no order; the default is none.</summary>
public readonly record struct ReportId(Guid Value) : IId<ReportId>
{
    public static ReportId From(Guid value) => new(value);
}
