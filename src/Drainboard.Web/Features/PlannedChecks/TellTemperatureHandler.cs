using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.PlannedChecks;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Hosting;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.PlannedChecks;

/// <param name="Id">Made by the sender; the idempotency key.</param>
/// <param name="At">When it was measured or foretold; left out: now.</param>
/// <param name="Until">With the lowest temperature that is expected: until when; left out: it is a measured one.</param>
public sealed record TellTemperatureRequest(Guid Id, int Celsius, Instant? At = null, Instant? Until = null);

/// <summary>Takes in how cold it is on a station's stands, or how cold it is expected to get.</summary>
public sealed class TellTemperatureHandler(OneDoor door)
{
    public Task<Answer> HandleAsync(Call call, string code, TellTemperatureRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.TellTemperature, new { code, request }, async attempt =>
        {
            if (!StationCode.TryParse(code, out var known) || await attempt.Db.Stations.AsNoTracking().SingleOrDefaultAsync(row => row.Code == known, attempt.Stop) is not { } station)
            {
                return new Answer.NotFound($"There is no station \"{code}\".");
            }

            if (!attempt.Actor.Stations.Covers(known))
            {
                return new Answer.NotAllowed(new Refusal("not-your-station", $"This is {known}; your account covers {attempt.Actor.Stations}."));
            }

            switch (StandTemperature.Tell(new StandTemperatureId(request.Id), station, request.Celsius, request.At is { } at ? MicrosecondClock.Cut(at) : attempt.Now, request.Until is { } until ? MicrosecondClock.Cut(until) : null, attempt.Actor, attempt.Now, out var made))
            {
                case Decision.Done done:
                    attempt.Db.Add(made!);
                    attempt.Record(done.Fact);
                    return attempt.Done(request.Id, () => 0, done.Fact.Words);
                case Decision.Refused refused:
                    return refused.Refusal;
                default:
                    throw new InvalidOperationException("A temperature is taken or refused.");
            }
        }, stop);
}
