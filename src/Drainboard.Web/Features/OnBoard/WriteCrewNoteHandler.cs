using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.OnBoard;
using Drainboard.Domain.Records;
using Drainboard.Web.Features.Door;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.OnBoard;

/// <param name="Words">What crew are told about this part of the cabin; empty takes the note away.</param>
public sealed record WriteCrewNoteRequest(Guid Id, string Area, string Words);

public sealed class WriteCrewNoteHandler(OneDoor door)
{
    public Task<Answer> HandleAsync(Call call, string layout, WriteCrewNoteRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.NoteForCrew, new { layout, request }, async attempt =>
        {
            var drawn = await attempt.Db.Layouts.AsNoTracking().Where(row => row.Code == layout).ToArrayAsync(attempt.Stop);
            if (drawn.Length == 0)
            {
                return new Answer.NotFound($"There is no layout \"{layout}\".");
            }

            if (!drawn.Any(row => row.Fixtures.Any(fixture => fixture.Area == request.Area)))
            {
                return new Refusal("no-such-area", $"Layout {layout} has no area \"{request.Area}\".");
            }

            var note = await attempt.Db.CrewNotes.SingleOrDefaultAsync(row => row.Layout == layout && row.Area == request.Area, attempt.Stop);
            if (note is null)
            {
                note = new CrewNote(layout, request.Area);
                attempt.Db.CrewNotes.Add(note);
            }

            if (note.Write(request.Words, attempt.Actor.Name, attempt.Now) is { } no)
            {
                return no;
            }

            attempt.Record(new Fact(ChainKey.Operator, "crew-note.written", request.Id, $"Note for crew, {layout} {request.Area}: {(note.Words.Length > 0 ? note.Words : "none")}"));
            return attempt.Done(request.Id, () => note.Version, "Crew see it from now on.");
        }, stop);
}
