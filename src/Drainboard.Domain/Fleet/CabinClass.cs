namespace Drainboard.Domain.Fleet;

/// <summary>
/// A class of seats and the stretch of the cabin that it takes, in percent of its length from the nose: <see cref="From"/> belongs to it,
/// <see cref="To"/> to the next one behind. The toilets of that stretch are its own.
/// </summary>
public sealed record CabinClass(string Name, int Seats, int From, int To)
{
    public const int LongestName = 30;

    /// <summary>What is wrong with the classes of a layout, in words; none at all is sound.</summary>
    public static IReadOnlyList<string> Faults(IReadOnlyList<CabinClass> classes, int seats)
    {
        var faults = classes.Where(one => one.Name.Trim().Length is 0 or > LongestName || one.Seats is < 1 or > 900 || one.From < 0 || one.To > 100 || one.From >= one.To)
            .Select(one => $"Class \"{one.Name}\": give it a name (up to {LongestName} characters), 1 to 900 seats, and a stretch of the cabin from 0 to 100, the nose first.").ToList();
        foreach (var (front, behind) in classes.OrderBy(one => one.From).Zip(classes.OrderBy(one => one.From).Skip(1)).Where(pair => pair.Second.From < pair.First.To))
        {
            faults.Add($"Classes \"{front.Name}\" and \"{behind.Name}\" take the same stretch of the cabin. Let one end where the next begins.");
        }

        if (classes.Count > 0 && classes.Sum(one => one.Seats) != seats)
        {
            faults.Add($"The classes have {classes.Sum(one => one.Seats)} seats together and the layout {seats}. Make them the same.");
        }

        if (classes.GroupBy(one => one.Name.Trim(), StringComparer.OrdinalIgnoreCase).FirstOrDefault(alike => alike.Count() > 1) is { } twice)
        {
            faults.Add($"Class \"{twice.Key}\" is there twice. Each has a name of its own.");
        }

        return faults;
    }

    /// <summary>How far a place along the cabin is from this stretch, in percent of its length; 0 inside it.</summary>
    public int DistanceTo(int along) => along < From ? From - along : along >= To ? along - To + 1 : 0;
}
