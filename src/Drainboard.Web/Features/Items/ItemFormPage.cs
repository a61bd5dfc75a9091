using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Web.Features.Accounts;
using Drainboard.Web.Features.Defects;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Components;
using NodaTime;

namespace Drainboard.Web.Features.Items;

/// <summary>
/// A static page with one form and one thing to do to a defect. It works without script and with a dead circuit; what was
/// typed comes back with the reason when it is refused or when somebody else was faster.
/// </summary>
public abstract class ItemFormPage<TInput> : ComponentBase
    where TInput : ItemInput, new()
{
    [Parameter] public Guid Id { get; set; }

    [SupplyParameterFromForm] public TInput? Input { get; set; }

    [CascadingParameter] public required HttpContext Http { get; set; }

    [Inject] public required DefectQuery Query { get; set; }

    [Inject] public required CurrentActor Current { get; set; }

    [Inject] public required NavigationManager Navigation { get; set; }

    [Inject] public required IClock Clock { get; set; }

    protected DefectView? Item { get; private set; }

    protected string? Trouble { get; private set; }

    protected Actor? Actor { get; private set; }

    protected TInput Form => Input!;

    /// <summary>What happened to the item since the person opened the form, when somebody else was faster.</summary>
    protected IReadOnlyList<StoryLine> Meanwhile { get; private set; } = [];

    protected string Zone => Input?.Zone ?? Item?.Zone ?? "Etc/UTC";

    /// <summary>Where the person goes once it is done.</summary>
    protected virtual string Next => $"/defects/{Id}";

    protected virtual Task LoadAsync() => Task.CompletedTask;

    /// <summary>What the form begins with when it is opened.</summary>
    protected virtual void Begin(TInput input)
    {
    }

    protected abstract Task<Answer> SendAsync(Call call);

    protected override async Task OnInitializedAsync()
    {
        Actor = await Current.GetAsync(Http.RequestAborted);
        Item = await Query.ReadAsync(new DefectId(Id), Actor, Http.RequestAborted);
        if (Item is null)
        {
            return;
        }

        await LoadAsync();
        if (Input is null)
        {
            Input = new TInput { CommandId = NewId.At(Clock.GetCurrentInstant()), Version = Item.Version, Zone = Item.Zone };
            Begin(Input);
        }
    }

    protected async Task SubmitAsync()
    {
        var answer = await SendAsync(new Call(Actor!, Form.CommandId, Form.Version));
        if (answer is Answer.Done)
        {
            Navigation.NavigateTo(Next);
            return;
        }

        Trouble = answer.Trouble;
        if (answer is Answer.Stale)
        {
            // The page now shows what stands and what changed; sending again is a wish about that.
            Meanwhile = [.. Item!.Story.TakeLast((int)Math.Clamp(Item.Version - Form.Version, 1, 5))];
            Form.Version = Item.Version;
        }
    }

    protected static Answer Ask(string code, string words) => new Refusal(code, words);
}
