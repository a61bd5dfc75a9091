namespace Drainboard.Domain.Tanks;

/// <summary>What the tanks of a layout hold, in usable litres: from the aircraft's manual, entered by the operator.</summary>
public sealed class LayoutTanks
{
    public const int MostLitres = 5000;

    private LayoutTanks()
    {
    }

    public LayoutTanks(string layout) => Layout = layout;

    /// <summary>The layout's code: it outlives a version of the drawing.</summary>
    public string Layout { get; private set; } = "";

    public int PotableLitres { get; private set; }

    public int WasteLitres { get; private set; }

    public long Version { get; private set; }

    public Refusal? Set(int potable, int waste)
    {
        if (potable is < 1 or > MostLitres || waste is < 1 or > MostLitres)
        {
            return new Refusal("tank-litres", $"A tank holds 1 to {MostLitres} litres.");
        }

        (PotableLitres, WasteLitres) = (potable, waste);
        return null;
    }
}
