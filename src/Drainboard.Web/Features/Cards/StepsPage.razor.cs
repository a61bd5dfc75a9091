using System.Globalization;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Cards;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Rectification;
using Drainboard.Web.Features.Defects;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Shell;
using Microsoft.AspNetCore.Components;
using NodaTime;
using NodaTime.Text;

namespace Drainboard.Web.Features.Cards;

/// <summary>
/// A work card step by step. Every step is a form and a wish of its own: two people add side by side, and what is ticked without a connection
/// waits on the device and is sent in its time.
/// </summary>
public sealed partial class StepsPage
{
    private IReadOnlyList<FixtureLine> _path = [];
    private JobView? _job;
    private string? _next;

    /// <summary>What was answered on the short form before a surprise.</summary>
    [SupplyParameterFromQuery] public string? Found { get; set; }

    [SupplyParameterFromQuery] public string? At { get; set; }

    [Inject] public required RecordStepHandler Steps { get; set; }

    [Inject] public required FinishJobHandler Finishing { get; set; }

    [Inject] public required GoOnHandler GoingOn { get; set; }

    [Inject] public required LeaveJobHandler Leaving { get; set; }

    [Inject] public required FixtureQuery Fixtures { get; set; }

    protected override string Next => Form.What switch
    {
        "finish" when Permissions.WhyNot(Actor!, Act.Release) is null => $"/defects/{Id}/release",
        "finish" or "leave" => $"/defects/{Id}",
        _ => $"/defects/{Id}/card/steps{new Uri(Navigation.Uri).Query}",
    };

    protected override async Task LoadAsync()
    {
        _job = Item!.Job;
        _next = _job is { IsRunning: true } ? _job.Next?.Key : null;
        _path = await FoundFields.PathAsync(Fixtures, Item, Http.RequestAborted);
    }

    protected override async Task<Answer> SendAsync(Call call)
    {
        var (adding, id, stop) = (new Call(call.Actor, call.Command), new DefectId(Id), Http.RequestAborted);
        return Form.What switch
        {
            "version" => await GoingOn.HandleAsync(adding, id, new GoOnRequest(Form.CommandId), stop),
            "leave" => await Leaving.HandleAsync(adding, id, new LeaveJobRequest(Form.CommandId, Form.Words ?? ""), stop),
            "finish" => Enum.TryParse<Found>(Form.Found, out var found)
                ? await Finishing.HandleAsync(adding, id, new FinishJobRequest(Form.CommandId, found, Form.FoundAt ?? "", Times.FromInput(Form.CompletedAt, Zone), int.TryParse(Form.Minutes, out var minutes) ? minutes : null, Form.Words, DoneAt: Moment(Form.SavedAt)), stop)
                : Ask("finish", "Say what was found, and where."),
            _ => await StepAsync(adding, id, stop),
        };
    }

    private async Task<Answer> StepAsync(Call call, DefectId id, CancellationToken stop)
    {
        if (!Enum.TryParse<StepResult>(Form.Result, out var result))
        {
            return Ask("result", "Say how the step came out.");
        }

        decimal? value = decimal.TryParse((Form.Value ?? "").Replace(',', '.'), NumberStyles.Number, CultureInfo.InvariantCulture, out var number) ? number : null;
        var answer = await Steps.HandleAsync(call, id, Form.Step ?? "", new RecordStepRequest(Form.CommandId, result, value, Form.Words, Form.Again, Moment(Form.SavedAt)), await PhotoAsync(stop), stop);
        return answer is Answer.Refused refused && _job?.Steps.FirstOrDefault(step => step.Key == Form.Step) is { } about ? new Refusal(refused.Refusal.Code, $"Step {about.Number}: {refused.Refusal.Words}") : answer;
    }

    // When the form was stored on the device.
    private static Instant? Moment(string? text) => InstantPattern.ExtendedIso.Parse(text ?? "") is { Success: true, Value: var at } ? at : null;

    private async Task<byte[]?> PhotoAsync(CancellationToken stop)
    {
        if (Http.Request.Form.Files is not [{ Length: > 0 } file, ..])
        {
            return null;
        }

        using var bytes = new MemoryStream();
        await using var stream = file.OpenReadStream();
        await stream.CopyToAsync(bytes, stop);
        return bytes.ToArray();
    }

    public sealed class StepInput : ItemInput
    {
        /// <summary>Which of the page's forms: step, finish, version or leave.</summary>
        public string? What { get; set; }

        public string? Step { get; set; }

        public string? Result { get; set; }

        public string? Value { get; set; }

        public string? Words { get; set; }

        public bool Again { get; set; }

        /// <summary>When the form was stored on the device: the time of a step ticked without a connection.</summary>
        public string? SavedAt { get; set; }

        public string? Found { get; set; }

        public string? FoundAt { get; set; }

        public string? CompletedAt { get; set; }

        public string? Minutes { get; set; }
    }
}
