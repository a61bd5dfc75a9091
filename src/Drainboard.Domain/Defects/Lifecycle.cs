using Drainboard.Domain.Accounts;
using static Drainboard.Domain.Defects.DefectState;

namespace Drainboard.Domain.Defects;

/// <summary>
/// The one table of a defect's life. What is not in it is refused, whoever asks. A deferral begins with the last thing its
/// basis requires, so proposing, preparing, authorising and certifying may each be the step that defers.
/// </summary>
public static class Lifecycle
{
    public static IReadOnlyList<Transition> Table { get; } =
    [
        new(Reported, Act.Report, [Reported], "another report of the same fixture, which says that it is the same fault"),
        new(Reported, Act.Sort, [Open], "the symptom, the answer about a leak and, beside the log, the log page and line"),
        new(Reported, Act.Merge, [Closed], "another defect of the same tail that is not closed"),
        new(Reported, Act.CloseInError, [Closed], "the reason"),
        new(Reported, Act.TakeItem, [Reported], "nothing more"),
        new(Reported, Act.Correct, [Reported], "the words of the correction"),
        new(Open, Act.Report, [Open], "another report of the same fixture, which says that it is the same fault"),
        new(Open, Act.Merge, [Closed], "another defect of the same tail that is not closed"),
        new(Open, Act.AnswerLeak, [Open], "an answer, and where it leaks"),
        new(Open, Act.ProposeDeferral, [Open, Deferred], "a basis that fits the fixture and layout, and no leak where the basis allows none"),
        new(Open, Act.PrepareDeferral, [Open, Deferred], "a proposed deferral"),
        new(Open, Act.AuthoriseDeferral, [Open, Deferred], "a proposed deferral, and control's authorisation"),
        new(Open, Act.CertifyDeferral, [Open, Deferred], "a proposed deferral, and a certifying signature with number and kind"),
        new(Open, Act.EndDeferral, [Open], "a proposed deferral to withdraw, and the reason"),
        new(Open, Act.TakeItem, [Open], "nothing more"),
        new(Open, Act.DoJob, [Open], "a work card for this kind of fixture"),
        new(Open, Act.InspectStep, [Open], "a step that is done and asks for a second person"),
        new(Open, Act.NoteDisturbed, [Open], "what is disturbed, restored or left"),
        new(Open, Act.NotePart, [Open], "the part or consumable"),
        new(Open, Act.RecordWork, [WorkDone], "what was found and where, what was done, and the manual reference"),
        new(Open, Act.CloseInError, [Closed], "the reason"),
        new(Open, Act.Correct, [Open], "the words of the correction"),
        new(Deferred, Act.Report, [Deferred, Open], "another report of the same fixture, which says that it is the same fault; a leak ends a deferral whose basis allows none"),
        new(Deferred, Act.AnswerLeak, [Deferred, Open], "an answer, and where it leaks; a leak ends a deferral whose basis allows none"),
        new(Deferred, Act.ExtendDeferral, [Deferred], "a clock that has not lapsed and a policy that allows it"),
        new(Deferred, Act.RecordNotice, [Deferred], "an extension of which the authority has yet to be told"),
        new(Deferred, Act.DoCondition, [Deferred], "a condition that repeats"),
        new(Deferred, Act.EndDeferral, [Open], "the reason"),
        new(Deferred, Act.TakeItem, [Deferred], "nothing more"),
        new(Deferred, Act.DoJob, [Deferred], "a work card for this kind of fixture"),
        new(Deferred, Act.InspectStep, [Deferred], "a step that is done and asks for a second person"),
        new(Deferred, Act.NoteDisturbed, [Deferred], "what is disturbed, restored or left"),
        new(Deferred, Act.NotePart, [Deferred], "the part or consumable"),
        new(Deferred, Act.RecordWork, [WorkDone], "what was found and where, what was done, and the manual reference"),
        new(Deferred, Act.Correct, [Deferred], "the words of the correction"),
        new(Open, Act.RecordNotice, [Open], "an extension of which the authority has yet to be told"),
        new(WorkDone, Act.RecordNotice, [WorkDone], "an extension of which the authority has yet to be told"),
        new(WorkDone, Act.RecordChecks, [WorkDone], "the result of an ops check or a leak check"),
        new(WorkDone, Act.InspectStep, [WorkDone], "a step that is done and asks for a second person"),
        new(WorkDone, Act.NoteDisturbed, [WorkDone], "what is disturbed or restored"),
        new(WorkDone, Act.NotePart, [WorkDone], "the part or consumable"),
        new(WorkDone, Act.Release, [Closed, Open, Deferred], "ops check and leak check passed, or the outcome \"not rectified\", and a certifying signature with number and kind"),
        new(WorkDone, Act.ReturnWork, [Open, Deferred], "the reason"),
        new(WorkDone, Act.Correct, [WorkDone], "the words of the correction"),
        new(Closed, Act.NotePart, [Closed], "the release certificate of a part, or that it is off again"),
        new(Closed, Act.RecordNotice, [Closed], "an extension of which the authority has yet to be told"),
        new(Closed, Act.Correct, [Closed], "the words of the correction"),
    ];

    public static IEnumerable<Transition> From(DefectState state) => Table.Where(row => row.From == state);

    /// <summary>Null when the act is lawful from this state; otherwise what is lawful instead.</summary>
    public static Refusal? WhyNot(DefectState from, Act act) =>
        From(from).Any(row => row.Act == act)
            ? null
            : new Refusal("not-from-this-state", $"This defect is {from.Words()}, and from there \"{act.Words()}\" is not possible. Possible now: {string.Join(", ", From(from).Select(row => row.Act.Words()))}.");

    public static string Words(this Act act) => act switch
    {
        Act.Look => "look",
        Act.Compute => "work something out",
        Act.WorkOutStandings => "work out who stands out",
        Act.SetPassword => "set the own password",
        Act.SetSigningCode => "set the own signing code",
        Act.SetPin => "set the own PIN",
        Act.ManageDevices => "manage shared devices",
        Act.NoteForCrew => "write a note for crew",
        Act.Follow => "follow clocks",
        Act.Report => "report",
        Act.Sort => "sort",
        Act.Merge => "join to another defect",
        Act.AnswerLeak => "say whether it leaks",
        Act.ProposeDeferral => "propose a deferral",
        Act.PrepareDeferral => "tick conditions and placard",
        Act.AuthoriseDeferral => "authorise the deferral",
        Act.CertifyDeferral => "certify the deferral",
        Act.ExtendDeferral => "extend the deferral",
        Act.RecordNotice => "record the notice to the authority",
        Act.DoCondition => "do a condition again",
        Act.EndDeferral => "end the deferral",
        Act.TakeItem => "take the item",
        Act.DoJob => "do a work card",
        Act.InspectStep => "make a required inspection",
        Act.NoteDisturbed => "note what is disturbed",
        Act.NotePart => "note a part",
        Act.RecordWork => "record work",
        Act.RecordChecks => "record a check",
        Act.DoCheck => "do a planned check",
        Act.TellTemperature => "tell the temperature of the stands",
        Act.ManageChecks => "manage planned checks",
        Act.RecordPour => "time a pour",
        Act.WithdrawPour => "withdraw a pour",
        Act.ReturnWork => "send the work back",
        Act.Release => "release",
        Act.CloseInError => "close as entered in error",
        Act.Correct => "add a correction",
        Act.HandOver => "hand over",
        Act.AcknowledgeSheet => "acknowledge the departure sheet",
        Act.ChangeTurns => "change turns",
        Act.ChangeSectors => "change flights",
        Act.Import => "import",
        Act.ManagePeople => "manage people",
        Act.ManageKeys => "manage API keys",
        Act.ChangeInstallation => "change the installation",
        Act.ManagePolicies => "manage deferral policies",
        Act.ManageLayouts => "change cabin layouts",
        Act.ManageCards => "change work cards",
        Act.PlanShift => "plan a shift",
        Act.PlanNetwork => "plan the network",
        Act.ChangeWaiting => "change what waiting goes by",
        Act.WorkOnWater => "record what was done for drinking water",
        Act.JudgeWater => "enter results and open cases of drinking water",
        Act.LiftWater => "give access to drinking water back",
        Act.ManageWater => "manage drinking water programmes",
        Act.RecordServicing => "record ramp servicing",
        Act.ChangeTanks => "change what tank balances go by",
        Act.ChangeFit => "change what turn fit goes by",
        Act.ChangeAdvice => "change what advice goes by",
        Act.VerifyRecord => "verify the record",
    };
}
