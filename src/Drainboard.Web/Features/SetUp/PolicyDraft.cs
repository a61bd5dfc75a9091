using Drainboard.Domain.Deferrals;
using Drainboard.Web.Features.Deferrals;
using Drainboard.Web.Features.Door;

namespace Drainboard.Web.Features.SetUp;

/// <summary>A policy as it stands in the form; an empty choice is "set by operator".</summary>
internal sealed class PolicyDraft
{
    public long SeenVersion { get; init; }

    public string Name { get; set; } = "";

    public string Title { get; set; } = "";

    public string Source { get; set; } = "";

    public int? B { get; set; }

    public int? C { get; set; }

    public int? D { get; set; }

    public string TimeBase { get; set; } = "";

    public string Zone { get; set; } = "";

    public ClockStart StartsFrom { get; set; }

    public string Excludes { get; set; } = "";

    public string CalendarStart { get; set; } = "";

    public string CountedUnitStart { get; set; } = "";

    public string ExpiryTest { get; set; } = "";

    public string[] Extendable { get; init; } = ["", "", "", ""];

    public int? MaxExtensions { get; set; }

    public int? MaxExtensionDays { get; set; }

    public int? NotifyHours { get; set; }

    public int? NotifyWorkingDays { get; set; }

    public bool ApprovalBeforeA { get; set; }

    public static PolicyDraft Of(PolicyView view)
    {
        var policy = view.Policy;
        return new PolicyDraft
        {
            SeenVersion = view.IsPreset ? Call.SawNone : policy.Version,
            Name = view.IsPreset ? $"own-{policy.Name}" : policy.Name,
            Title = view.IsPreset ? "" : policy.Title,
            Source = view.IsPreset ? "" : policy.Sources.Select(source => source.Source).FirstOrDefault() ?? "",
            B = policy.Days.B,
            C = policy.Days.C,
            D = policy.Days.D,
            TimeBase = policy.TimeBase?.ToString() ?? "",
            Zone = policy.OperatorZone,
            StartsFrom = policy.StartsFrom,
            Excludes = policy.ExcludesDayOfDiscovery?.ToString() ?? "",
            CalendarStart = policy.CalendarStart?.ToString() ?? "",
            CountedUnitStart = policy.CountedUnitStart?.ToString() ?? "",
            ExpiryTest = policy.ExpiryTest?.ToString() ?? "",
            Extendable = [.. Enum.GetValues<Category>().Select(category => policy.Extendable.For(category)?.ToString() ?? "")],
            MaxExtensions = policy.MaxExtensions,
            MaxExtensionDays = policy.MaxExtensionDays,
            NotifyHours = policy.NotifyWithin?.Hours,
            NotifyWorkingDays = policy.NotifyWithin?.WorkingDays,
            ApprovalBeforeA = policy.ApprovalBeforeA == true,
        };
    }

    public SavePolicyRequest ToRequest() => new(
        Title, Source, new PolicyDays(B, C, D), Choice<TimeBase>(TimeBase), YesNo(Excludes), Choice<CalendarStart>(CalendarStart), StartsFrom, Choice<CountedUnitStart>(CountedUnitStart), Choice<ExpiryTest>(ExpiryTest),
        new PerCategory(YesNo(Extendable[0]), YesNo(Extendable[1]), YesNo(Extendable[2]), YesNo(Extendable[3])), MaxExtensions, MaxExtensionDays,
        NotifyHours is null && NotifyWorkingDays is null ? null : new NotifyRule(NotifyHours, NotifyWorkingDays), ApprovalBeforeA, Zone);

    private static T? Choice<T>(string text)
        where T : struct, Enum => Enum.TryParse<T>(text, out var value) ? value : null;

    private static bool? YesNo(string text) => bool.TryParse(text, out var yes) ? yes : null;
}
