namespace Drainboard.Testing.Processes;

/// <summary>Where the source lies, and the program that was built from it beside the running one.</summary>
public static class Repository
{
    public static string Root { get; } = Find();

    /// <summary>The web program's library, built as the running program was (Debug or Release).</summary>
    public static string Program { get; } = Path.Combine(Root, "artifacts", "bin", "Drainboard.Web", Path.GetFileName(AppContext.BaseDirectory.TrimEnd(Path.DirectorySeparatorChar)), "Drainboard.Web.dll");

    private static string Find()
    {
        for (var at = new DirectoryInfo(AppContext.BaseDirectory); at is not null; at = at.Parent)
        {
            if (File.Exists(Path.Combine(at.FullName, "Drainboard.slnx")))
            {
                return at.FullName;
            }
        }

        throw new InvalidOperationException("This runs inside the repository.");
    }
}
