using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Records;
using Drainboard.Domain.Tanks;
using Drainboard.Web.Features.Door;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Tanks;

/// <param name="Id">Made by the sender; the idempotency key.</param>
/// <param name="PotableLitres">Usable litres, all potable tanks together.</param>
/// <param name="WasteLitres">Usable litres, all waste tanks together.</param>
public sealed record SizeTanksRequest(Guid Id, int PotableLitres, int WasteLitres);

/// <summary>Says what the tanks of a layout hold.</summary>
public sealed class SizeTanksHandler(OneDoor door)
{
    public Task<Answer> HandleAsync(Call call, string layout, SizeTanksRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.ChangeTanks, new { layout, request }, async attempt =>
        {
            if (!await attempt.Db.Layouts.AnyAsync(row => row.Code == layout, attempt.Stop))
            {
                return new Answer.NotFound($"There is no layout \"{layout}\".");
            }

            var tanks = await attempt.Db.LayoutTanks.SingleOrDefaultAsync(row => row.Layout == layout, attempt.Stop);
            if (tanks is null)
            {
                tanks = new LayoutTanks(layout);
                attempt.Db.Add(tanks);
            }

            if (tanks.Set(request.PotableLitres, request.WasteLitres) is { } no)
            {
                return no;
            }

            attempt.Record(new Fact(ChainKey.Operator, "tanks.sized", request.Id, $"Tanks of layout {layout}: {tanks.PotableLitres} L potable, {tanks.WasteLitres} L waste.").With("layout", layout).With("potableLitres", tanks.PotableLitres).With("wasteLitres", tanks.WasteLitres));
            return attempt.Done(request.Id, () => tanks.Version, "Saved.");
        }, stop);
}
