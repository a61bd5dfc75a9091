using Drainboard.Domain.Accounts;
using Drainboard.Domain.Records;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Drainboard.Web.Features.Records;

internal static class RecordsApi
{
    public static void MapRecords(this IEndpointRouteBuilder api)
    {
        var group = api.MapGroup("/record").WithTags("Record");
        group.MapGet("/{chain}", Read).Needs(Act.VerifyRecord).WithSummary("Entries of one chain (operator, tail:ID, station:CODE) after a number, 200 a page");
        group.MapGet("/seals", Seals).Needs(Act.VerifyRecord).WithSummary("Daily seals of the whole record, newest first: the Merkle root over every head ever sealed (RFC 9162 hashing)");
        group.MapGet("/seals/{seal:int}/heads/{chain}", Head).Needs(Act.VerifyRecord).ProducesProblem(404).WithSummary("Proof that a chain's head is in a seal");
        group.MapGet("/seals/{seal:int}/growth", Growth).Needs(Act.VerifyRecord).ProducesProblem(404).WithSummary("Proof that a seal only added to an earlier one (since, the first unless said)");
        group.MapGet("/verification", Verify).Needs(Act.VerifyRecord).WithSummary("Walk every chain; names the first break of each");
    }

    private static async Task<Ok<IReadOnlyList<EntryView>>> Read(string chain, RecordQuery query, CancellationToken stop, long after = 0) =>
        TypedResults.Ok(await query.ReadAsync(ChainKey.Stored(chain), after, stop));

    private static async Task<Ok<IReadOnlyList<SealView>>> Seals(SealsQuery query, CancellationToken stop) => TypedResults.Ok(await query.ReadAsync(stop));

    private static async Task<Results<Ok<HeadProof>, ProblemHttpResult>> Head(int seal, string chain, SealsQuery query, CancellationToken stop) =>
        await query.ProveHeadAsync(seal, ChainKey.Stored(chain), stop) is { } proof ? TypedResults.Ok(proof) : AnswerHttp.Problem(404, "Not found", $"Seal {seal} holds no head of \"{chain}\".", "not-found");

    private static async Task<Results<Ok<GrowthProof>, ProblemHttpResult>> Growth(int seal, SealsQuery query, CancellationToken stop, int since = 1) =>
        await query.ProveGrowthAsync(since, seal, stop) is { } proof ? TypedResults.Ok(proof) : AnswerHttp.Problem(404, "Not found", $"There are no seals {since} and {seal}, the earlier one first.", "not-found");

    private static async Task<Ok<Verification>> Verify(RecordQuery query, CancellationToken stop) => TypedResults.Ok(await query.VerifyAsync(stop));
}
