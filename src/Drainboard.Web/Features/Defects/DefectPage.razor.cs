using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Rectification;
using Drainboard.Web.Features.Accounts;
using Drainboard.Web.Features.Cards;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Features.Reliability;
using Drainboard.Web.Features.TurnFit;
using Drainboard.Web.Shell;
using Microsoft.AspNetCore.Components;
using NodaTime;

namespace Drainboard.Web.Features.Defects;

/// <summary>A defect: what is known, what carries it, what was done, and only the next lawful actions of this person.</summary>
public sealed partial class DefectPage
{
    private DefectView? _item;
    private FixtureRepeats? _repeats;
    private FitDetail? _fit;
    private Instant _now;
    private Actor? _actor;
    private string? _trouble;

    [Parameter] public Guid Id { get; set; }

    /// <summary>"I have it", or the card that is begun.</summary>
    [SupplyParameterFromForm] public HandInput? Input { get; set; }

    [Inject] public required DefectQuery Query { get; set; }

    [Inject] public required FixtureRepeatsQuery Repeats { get; set; }

    [Inject] public required FitQuery Fits { get; set; }

    [Inject] public required CurrentActor Current { get; set; }

    [Inject] public required IClock Clock { get; set; }

    [Inject] public required TakeItemHandler Taking { get; set; }

    [Inject] public required StartJobHandler Starting { get; set; }

    [Inject] public required NavigationManager Navigation { get; set; }

    private Shape StateShape => _item!.State switch
    {
        DefectState.Reported => Shape.Reported,
        DefectState.Open => Shape.Open,
        DefectState.Deferred => Shape.Deferred,
        DefectState.WorkDone => Shape.NotReleased,
        DefectState.Closed => Shape.Closed,
    };

    /// <summary>A work card is the way forward, so no other action is the large one.</summary>
    private bool HasCard => _item!.Job is { IsRunning: true } || (_item.Possible.Contains(Act.DoJob) && _item.Cards.Any(card => card.First));

    /// <summary>The lawful actions, the one that moves the work forward first and large.</summary>
    private IReadOnlyList<(string Path, string Words, bool First)> Offers
    {
        get
        {
            var item = _item!;
            var lawful = new[] { Act.Sort, Act.CertifyDeferral, Act.AuthoriseDeferral, Act.Release, Act.RecordChecks, Act.RecordWork, Act.PrepareDeferral, Act.ProposeDeferral, Act.AnswerLeak, Act.DoCondition, Act.RecordNotice, Act.ExtendDeferral, Act.EndDeferral, Act.ReturnWork, Act.NoteDisturbed, Act.NotePart, Act.Merge, Act.CloseInError, Act.Correct }
                .Where(act => item.Possible.Contains(act) && !(act == Act.NotePart && item.State == DefectState.Closed)).Select(act => Offer(act, item.Deferral is { Running: true })).ToArray();
            return [.. lawful.Select((offer, index) => (offer.Path, offer.Words, index == 0 && offer.Path is not ("correct" or "part" or "disturbed") && !HasCard))];
        }
    }

    protected override async Task OnInitializedAsync()
    {
        _now = Clock.GetCurrentInstant();
        _actor = await Current.GetAsync();
        _item = await Query.ReadAsync(new DefectId(Id), _actor, CancellationToken.None);
        _repeats = _item is { } item ? await Repeats.ReadAsync(Registration.Parse(item.Tail), Position.Parse(item.Position), item.Symptom.Family(), CancellationToken.None) : null;
        _fit = _item is { State: not DefectState.Closed } ? await Fits.ReadAsync(new DefectId(Id), CancellationToken.None) : null;
    }

    private async Task HandAsync()
    {
        var (call, id) = (new Call(_actor!, Input!.CommandId), new DefectId(Id));
        var answer = Input.Card is { } card
            ? await Starting.HandleAsync(call, id, new StartJobRequest(Input.CommandId, card), CancellationToken.None)
            : await Taking.HandleAsync(call, id, new TakeItemRequest(Input.CommandId, Input.Have), CancellationToken.None);
        _trouble = answer.Trouble;
        if (answer is Answer.Done)
        {
            Navigation.NavigateTo(Input.Card is null ? $"/defects/{Id}" : $"/defects/{Id}/card");
        }
    }

    private static (string Path, string Words) Offer(Act act, bool running) => act switch
    {
        Act.Sort => ("sort", "Sort this report"),
        Act.Merge => ("join", "Same as another defect"),
        Act.AnswerLeak => ("leak", "Answer: any leak?"),
        Act.ProposeDeferral => ("defer", "Propose a deferral"),
        Act.PrepareDeferral => ("prepare", "Tick conditions and placard"),
        Act.AuthoriseDeferral => ("authorise", "Authorise the deferral"),
        Act.CertifyDeferral => ("certify", "Certify the deferral"),
        Act.ExtendDeferral => ("extend", "Extend the clock"),
        Act.DoCondition => ("condition", "A condition done again"),
        Act.RecordNotice => ("notice", "The authority was told"),
        Act.EndDeferral => ("end-deferral", running ? "End the deferral" : "Withdraw the proposed deferral"),
        Act.RecordWork => ("work", "Record the work in own words"),
        Act.NoteDisturbed => ("disturbed", "Something is disturbed"),
        Act.NotePart => ("part", "A part is used or awaited"),
        Act.RecordChecks => ("checks", "Record a check"),
        Act.ReturnWork => ("return", "Send the work back"),
        Act.Release => ("release", "Release"),
        Act.CloseInError => ("error", "Entered in error"),
        Act.Correct => ("correct", "Add a correction"),
        _ => throw new InvalidOperationException($"{act} is not done to a defect."),
    };

    public sealed class HandInput : ItemInput
    {
        public bool Have { get; set; }

        public string? Card { get; set; }
    }

    private static string Say(Check? check, string good, string bad) =>
        check is null ? "not done yet" : $"{(check.Passed ? good : bad)}, {check.By}{(check.Words.Length > 0 ? $": {check.Words}" : "")}";
}
