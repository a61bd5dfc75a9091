using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Rectification;
using Drainboard.Web.Features.Accounts;
using Drainboard.Web.Shell;
using Microsoft.AspNetCore.Components;
using NodaTime;

namespace Drainboard.Web.Features.Defects;

/// <summary>A defect: what is known, what carries it, what was done, and only the next lawful actions of this person.</summary>
public sealed partial class DefectPage
{
    private DefectView? _item;
    private Instant _now;

    [Parameter] public Guid Id { get; set; }

    [SupplyParameterFromQuery] public bool Received { get; set; }

    /// <summary>Why a photo of the report just received was not taken.</summary>
    [SupplyParameterFromQuery] public string? Photo { get; set; }

    [Inject] public required DefectQuery Query { get; set; }

    [Inject] public required CurrentActor Current { get; set; }

    [Inject] public required IClock Clock { get; set; }

    private Shape StateShape => _item!.State switch
    {
        DefectState.Reported => Shape.Reported,
        DefectState.Open => Shape.Open,
        DefectState.Deferred => Shape.Deferred,
        DefectState.WorkDone => Shape.NotReleased,
        DefectState.Closed => Shape.Closed,
    };

    /// <summary>The lawful actions, the one that moves the work forward first and large.</summary>
    private IReadOnlyList<(string Path, string Words, bool First)> Offers
    {
        get
        {
            var lawful = new[] { Act.Sort, Act.CertifyDeferral, Act.AuthoriseDeferral, Act.Release, Act.RecordChecks, Act.RecordWork, Act.PrepareDeferral, Act.ProposeDeferral, Act.AnswerLeak, Act.DoCondition, Act.RecordNotice, Act.ExtendDeferral, Act.EndDeferral, Act.ReturnWork, Act.Merge, Act.CloseInError, Act.Correct }
                .Where(_item!.Possible.Contains).Select(act => Offer(act, _item.Deferral is { Running: true })).ToArray();
            return [.. lawful.Select((offer, index) => (offer.Path, offer.Words, index == 0 && offer.Path != "correct"))];
        }
    }

    protected override async Task OnInitializedAsync()
    {
        _now = Clock.GetCurrentInstant();
        _item = await Query.ReadAsync(new DefectId(Id), await Current.GetAsync(), CancellationToken.None);
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
        Act.RecordWork => ("work", "Record the work"),
        Act.RecordChecks => ("checks", "Record a check"),
        Act.ReturnWork => ("return", "Send the work back"),
        Act.Release => ("release", "Release"),
        Act.CloseInError => ("error", "Entered in error"),
        Act.Correct => ("correct", "Add a correction"),
        _ => throw new InvalidOperationException($"{act} is not done to a defect."),
    };

    private static string Say(Check? check, string good, string bad) =>
        check is null ? "not done yet" : $"{(check.Passed ? good : bad)}, {check.By}{(check.Words.Length > 0 ? $": {check.Words}" : "")}";
}
