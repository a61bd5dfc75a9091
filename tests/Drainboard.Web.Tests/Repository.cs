namespace Drainboard.Web.Tests;

internal static class Repository
{
    public static string Root { get; } = Find();

    private static string Find()
    {
        for (var at = new DirectoryInfo(AppContext.BaseDirectory); at is not null; at = at.Parent)
        {
            if (File.Exists(Path.Combine(at.FullName, "Drainboard.slnx")))
            {
                return at.FullName;
            }
        }

        throw new InvalidOperationException("The tests run inside the repository.");
    }
}
