using Drainboard.Domain.Accounts;
using Drainboard.Domain.Records;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Paper;
using Drainboard.Web.Features.SetUp;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;

namespace Drainboard.Web.Features.Records;

internal static class RecordsApi
{
    public static void MapRecords(this IEndpointRouteBuilder api)
    {
        var group = api.MapGroup("/record").WithTags("Record");
        group.MapGet("", Chains).Needs(Act.VerifyRecord).WithSummary("Every chain with its length and its head");
        group.MapGet("/{chain}", Read).Needs(Act.VerifyRecord).WithSummary("Entries of one chain (operator, tail:ID, station:CODE) after a number, 200 a page");
        group.MapGet("/{chain}/export.jsonl", Export).Needs(Act.VerifyRecord).Produces(200, contentType: "application/jsonl").WithSummary("A whole chain as JSON Lines with the proof of its seal, to be checked by an outsider (docs/verify.html)");
        group.MapGet("/{chain}/export.pdf", Pdf).Needs(Act.VerifyRecord).Produces(200, contentType: "application/pdf").WithSummary("The same on paper; size=A4 or Letter");
        group.MapGet("/seals/{seal:int}/entries/{chain}/{entry:long}", Entry).Needs(Act.VerifyRecord).ProducesProblem(404).WithSummary("Proof that one entry is in a seal");
        group.MapGet("/seals", Seals).Needs(Act.VerifyRecord).WithSummary("Daily seals of the whole record, newest first: the Merkle root over every head ever sealed (RFC 9162 hashing)");
        group.MapGet("/seals/{seal:int}/heads/{chain}", Head).Needs(Act.VerifyRecord).ProducesProblem(404).WithSummary("Proof that a chain's head is in a seal");
        group.MapGet("/seals/{seal:int}/growth", Growth).Needs(Act.VerifyRecord).ProducesProblem(404).WithSummary("Proof that a seal only added to an earlier one (since, the first unless said)");
        group.MapGet("/verification", Verify).Needs(Act.VerifyRecord).WithSummary("Walk every chain and seal, and hold the seals against those published in the data folder; names the first break of each");
    }

    private static async Task<Ok<IReadOnlyList<ChainView>>> Chains(RecordQuery query, CancellationToken stop) => TypedResults.Ok(await query.ReadChainsAsync(stop));

    private static async Task<Ok<IReadOnlyList<EntryView>>> Read(string chain, RecordQuery query, CancellationToken stop, long after = 0) =>
        TypedResults.Ok(await query.ReadAsync(ChainKey.Stored(chain), after, stop));

    private static PushStreamHttpResult Export(string chain, ExportQuery query, CancellationToken stop) =>
        TypedResults.Stream(async to =>
        {
            await using var writer = new StreamWriter(to, leaveOpen: true) { NewLine = "\n" };
            await foreach (var line in query.ReadAsync(ChainKey.Stored(chain), stop))
            {
                await writer.WriteLineAsync(line.AsMemory(), stop);
            }
        }, "application/jsonl", $"record-{chain.Replace(':', '-')}.jsonl");

    private static async Task<FileContentHttpResult> Pdf(string chain, RecordQuery query, SealsQuery seals, InstallationQuery installation, TailsQuery tails, IClock clock, CancellationToken stop, string? size = null)
    {
        var (key, entries) = (ChainKey.Stored(chain), new List<EntryView>());
        for (IReadOnlyList<EntryView> page = []; (page = await query.ReadAsync(key, entries.Count, stop)).Count > 0;)
        {
            entries.AddRange(page);
        }

        var head = await seals.ReadAsync(stop) is [var newest, ..] ? await seals.ProveHeadAsync(newest.Seal, key, stop) : null;
        var title = (await tails.ReadAsync(stop)).FirstOrDefault(tail => chain == $"tail:{tail.Id}")?.Registration ?? chain;
        return TypedResults.File(RecordPaper.Write(title, entries, head, Notices.Of(await installation.ReadAsync(stop)), clock.GetCurrentInstant(), PaperSizes.Parse(size)), "application/pdf", $"record-{title.Replace(':', '-')}.pdf");
    }

    private static async Task<Results<Ok<EntryProof>, ProblemHttpResult>> Entry(int seal, string chain, long entry, SealsQuery query, CancellationToken stop) =>
        await query.ProveEntryAsync(seal, ChainKey.Stored(chain), entry, stop) is { } proof ? TypedResults.Ok(proof) : AnswerHttp.Problem(404, "Not found", $"Seal {seal} does not cover entry {entry} of \"{chain}\".", "not-found");

    private static async Task<Ok<IReadOnlyList<SealView>>> Seals(SealsQuery query, CancellationToken stop) => TypedResults.Ok(await query.ReadAsync(stop));

    private static async Task<Results<Ok<HeadProof>, ProblemHttpResult>> Head(int seal, string chain, SealsQuery query, CancellationToken stop) =>
        await query.ProveHeadAsync(seal, ChainKey.Stored(chain), stop) is { } proof ? TypedResults.Ok(proof) : AnswerHttp.Problem(404, "Not found", $"Seal {seal} holds no head of \"{chain}\".", "not-found");

    private static async Task<Results<Ok<GrowthProof>, ProblemHttpResult>> Growth(int seal, SealsQuery query, CancellationToken stop, int since = 1) =>
        await query.ProveGrowthAsync(since, seal, stop) is { } proof ? TypedResults.Ok(proof) : AnswerHttp.Problem(404, "Not found", $"There are no seals {since} and {seal}, the earlier one first.", "not-found");

    private static async Task<Ok<Verification>> Verify(RecordQuery query, SealPublisher published, CancellationToken stop) => TypedResults.Ok(await query.VerifyAsync(stop, await published.ReadAsync(stop)));
}
