using System.Globalization;
using Drainboard.Domain.Cards;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Web.Features.Cards;
using Drainboard.Web.Features.Door;

namespace Drainboard.Web.Features.SetUp;

/// <summary>A work card while it is being written.</summary>
internal sealed class CardDraft
{
    public string Code { get; set; } = "";

    public long SeenVersion { get; private init; } = Call.SawNone;

    public string Title { get; set; } = "";

    public string ManualReference { get; set; } = "";

    public bool HasShortForm { get; set; }

    public HashSet<FixtureKind> Kinds { get; } = [];

    public HashSet<SymptomFamily> Families { get; } = [];

    public List<StepDraft> Steps { get; } = [];

    public static CardDraft Of(CardView card)
    {
        var draft = new CardDraft { Code = card.Code, SeenVersion = card.Version, Title = card.Title, ManualReference = card.ManualReference, HasShortForm = card.HasShortForm };
        draft.Kinds.UnionWith(card.Kinds);
        draft.Families.UnionWith(card.Families);
        draft.Steps.AddRange(card.Steps.Select(StepDraft.Of));
        return draft;
    }

    /// <summary>A new step, under a key that no other has.</summary>
    public void Add()
    {
        var number = Steps.Count + 1;
        while (Steps.Any(step => step.Key == $"step-{number}"))
        {
            number++;
        }

        Steps.Add(new StepDraft { Key = $"step-{number}" });
    }

    public void Move(StepDraft step, int by)
    {
        var at = Steps.IndexOf(step);
        var to = Math.Clamp(at + by, 0, Steps.Count - 1);
        Steps.RemoveAt(at);
        Steps.Insert(to, step);
    }

    /// <summary>What the operator publishes is the operator's own and no example.</summary>
    public SaveCardRequest ToRequest(Guid id) => new(id, Title, ManualReference, [.. Kinds], [.. Steps.Select(step => step.ToStep())], [.. Families], HasShortForm);
}

/// <summary>A step while it is being written.</summary>
internal sealed class StepDraft
{
    public string Key { get; set; } = "";

    public string Words { get; set; } = "";

    public string Caution { get; set; } = "";

    public StepCheck Check { get; set; }

    public string Unit { get; set; } = "";

    public string Low { get; set; } = "";

    public string High { get; set; } = "";

    public bool SecondPerson { get; set; }

    public string DisturbsKind { get; set; } = "";

    public string DisturbsWords { get; set; } = "";

    public string Restores { get; set; } = "";

    public static StepDraft Of(CardStep step) => new()
    {
        Key = step.Key, Words = step.Words, Caution = step.Caution, Check = step.Check, Unit = step.Measure?.Unit ?? "", Low = Say(step.Measure?.Low), High = Say(step.Measure?.High),
        SecondPerson = step.SecondPerson, DisturbsKind = step.Disturbs?.Kind.ToString() ?? "", DisturbsWords = step.Disturbs?.Words ?? "", Restores = step.Restores ?? "",
    };

    public CardStep ToStep() => new(
        Key, Words.Trim(), Caution.Trim(), Check, Check == StepCheck.Measurement ? new StepMeasure(Unit.Trim(), Number(Low), Number(High)) : null, SecondPerson,
        Enum.TryParse<DisturbedKind>(DisturbsKind, out var kind) ? new Disturbance(kind, DisturbsWords.Trim()) : null, Restores.Length == 0 ? null : Restores);

    private static string Say(decimal? value) => value?.ToString("0.###", CultureInfo.InvariantCulture) ?? "";

    private static decimal? Number(string text) => decimal.TryParse(text.Replace(',', '.'), NumberStyles.Number, CultureInfo.InvariantCulture, out var value) ? value : null;
}
