namespace Drainboard.Web.Features.Deferrals;

/// <summary>Which clocks: all, those lapsed, within a day, with no stay that can take them in time, or with a notice to the authority due.</summary>
public enum ClocksShown
{
    All,
    Lapsed,
    Day,
    Stranded,
    Notice,
}
