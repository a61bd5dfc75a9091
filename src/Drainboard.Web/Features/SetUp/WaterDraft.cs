using Drainboard.Domain.PotableWater;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.PotableWater;

namespace Drainboard.Web.Features.SetUp;

/// <summary>A drinking water programme while it is written.</summary>
internal sealed class WaterDraft
{
    public string Code { get; set; } = "";

    public string Title { get; set; } = "";

    public bool UnderSubpartX { get; set; } = true;

    public bool CanShutOff { get; set; }

    public int DisinfectEveryDays { get; set; } = 91;

    public int SampleEveryDays { get; set; } = 365;

    public int InspectEveryMonths { get; set; } = 60;

    public string Manual { get; set; } = "";

    public string Source { get; set; } = "";

    public List<Item> Items { get; private set; } = [];

    /// <summary>The version that the person saw; <see cref="Call.SawNone"/> for a new one.</summary>
    public long SeenVersion { get; private set; } = Call.SawNone;

    public WaterTerms Terms => new(Title.Trim(), UnderSubpartX, DisinfectEveryDays, SampleEveryDays, InspectEveryMonths, CanShutOff, Manual.Trim(), Source.Trim(), [.. Items.Select(item => new WaterItem(item.Key.Trim(), item.Name.Trim(), item.EveryDays, item.EveryHours))]);

    public static WaterDraft Of(WaterProgrammeView view) => new()
    {
        Code = view.Code, Title = view.Terms.Title, UnderSubpartX = view.Terms.UnderSubpartX, CanShutOff = view.Terms.CanShutOff, DisinfectEveryDays = view.Terms.DisinfectEveryDays, SampleEveryDays = view.Terms.SampleEveryDays,
        InspectEveryMonths = view.Terms.InspectEveryMonths, Manual = view.Terms.Manual, Source = view.Terms.Source, SeenVersion = view.Number,
        Items = [.. view.Terms.Items.Select(item => new Item { Key = item.Key, Name = item.Name, EveryDays = item.EveryDays, EveryHours = item.EveryHours })],
    };

    internal sealed class Item
    {
        public string Key { get; set; } = "";

        public string Name { get; set; } = "";

        public int? EveryDays { get; set; }

        public int? EveryHours { get; set; }
    }
}
