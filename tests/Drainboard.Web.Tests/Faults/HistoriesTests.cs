using Drainboard.Testing.Faults;

namespace Drainboard.Web.Tests.Faults;

/// <summary>
/// The checker of histories against the definition it decides (linearizability: Herlihy and Wing, "Linearizability: a correctness condition for
/// concurrent objects", ACM TOPLAS 12(3), 1990): some order of all operations that keeps who ended before whom began, and that one copy of the
/// register could have answered.
/// </summary>
public sealed class HistoriesTests
{
    private static readonly Guid Defect = new("00000000-0000-7000-8000-000000000001");

    [Fact]
    public void ReadOfAnOldVersion_AfterTheNewOneWasSeen_IsFound()
    {
        Operation[] operations = [Write(1, 2, 0, 1, "a"), Read(3, 4, 1, "a"), Read(5, 6, 0, "")];
        Assert.Contains("Read of version 0", Assert.Single(Histories.Check(0, operations)), StringComparison.Ordinal);
    }

    [Fact]
    public void ALostWrite_IsFound()
    {
        Assert.NotEmpty(Histories.Check(0, [Write(1, 2, 0, 1, "a"), Write(3, 4, 0, 1, "b")]));
        Assert.NotEmpty(Histories.Check(0, [Write(1, 2, 1, 2, "a")]));
        Assert.NotEmpty(Histories.Check(0, [Read(1, 2, 0, "a")]));
    }

    [Fact]
    public void StaleWithoutAnyoneFaster_IsFound() => Assert.NotEmpty(Histories.Check(0, [new Operation(Defect, OperationKind.Stale, 1, 2, 0, 0, ""), Write(3, 4, 0, 1, "a")]));

    [Fact]
    public void OverlappingOnes_MayHaveGoneEitherWay() => Assert.Empty(Histories.Check(0, [Write(1, 9, 0, 1, "a"), Read(2, 3, 1, "a"), new Operation(Defect, OperationKind.Stale, 2, 4, 0, 0, "")]));

    /// <summary>3,000 small random histories: the checker says what trying every order says.</summary>
    [Fact]
    public void SameAnswer_AsTryingEveryOrder()
    {
        var dice = new Random(20261127);
        var (lawful, unlawful) = (0, 0);
        for (var round = 0; round < 3000; round++)
        {
            var history = RandomHistory(dice);
            var expected = AnyOrder([], history);
            Assert.True(expected == (Histories.Check(0, history).Count == 0), string.Join("; ", history.Select(one => one.ToString())));
            (lawful, unlawful) = expected ? (lawful + 1, unlawful) : (lawful, unlawful + 1);
        }

        Assert.True(lawful > 300 && unlawful > 300, $"{lawful} lawful, {unlawful} not: the draw is too one-sided to say anything.");
    }

    /// <summary>Up to five operations of a copy that answers one at a time, at overlapping times; some answers are bent afterwards.</summary>
    private static Operation[] RandomHistory(Random dice)
    {
        var (version, value, at) = (0L, "", 0L);
        var history = new List<Operation>();
        for (var count = 2 + dice.Next(4); count > 0; count--)
        {
            // Each takes effect at its own moment, and begins and ends around it.
            at += 10;
            var (began, ended) = (at - dice.Next(25), at + dice.Next(25));
            switch (dice.Next(3))
            {
                case 0:
                    history.Add(new Operation(Defect, OperationKind.Read, began, ended, 0, version, value));
                    break;
                case 1 when version > 0:
                    history.Add(new Operation(Defect, OperationKind.Stale, began, ended, version - 1, version - 1, ""));
                    break;
                default:
                    value = $"{count}{at}";
                    history.Add(new Operation(Defect, OperationKind.Written, began, ended, version, ++version, value));
                    break;
            }
        }

        if (dice.Next(2) == 0)
        {
            var bent = dice.Next(history.Count);
            history[bent] = dice.Next(3) switch
            {
                0 => history[bent] with { Version = history[bent].Version + dice.Next(-1, 2) },
                1 => history[bent] with { Seen = history[bent].Seen + dice.Next(-1, 2) },
                _ => history[bent] with { Began = history[bent].Began + 20, Ended = history[bent].Ended + 20 },
            };
        }

        return [.. history];
    }

    private static bool AnyOrder(List<Operation> taken, Operation[] left) =>
        left.Length == 0
            ? IsLawful(taken)
            : left.Any(next => !left.Any(other => other.Ended < next.Began) && AnyOrder([.. taken, next], [.. left.Where(other => other != next)]));

    private static bool IsLawful(List<Operation> order)
    {
        var (version, value) = (0L, "");
        foreach (var one in order)
        {
            switch (one.Kind)
            {
                case OperationKind.Read when one.Version == version && one.Value == value:
                case OperationKind.Stale when one.Seen < version:
                    break;
                case OperationKind.Written when one.Seen == version && one.Version == version + 1:
                    (version, value) = (one.Version, one.Value);
                    break;
                default:
                    return false;
            }
        }

        return true;
    }

    private static Operation Read(long began, long ended, long version, string value) => new(Defect, OperationKind.Read, began, ended, 0, version, value);

    private static Operation Write(long began, long ended, long seen, long version, string value) => new(Defect, OperationKind.Written, began, ended, seen, version, value);
}
