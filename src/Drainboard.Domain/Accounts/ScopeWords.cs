namespace Drainboard.Domain.Accounts;

/// <summary>The words of an <see cref="ApiScope"/> as people read them.</summary>
public static class ScopeWords
{
    public static string Words(this ApiScope scope) => scope switch
    {
        ApiScope.Read => "read everything",
        ApiScope.Report => "send reports",
        ApiScope.Work => "sort and record work",
        ApiScope.Defer => "propose and authorise deferrals",
        ApiScope.Sign => "certify and release",
        ApiScope.SetUp => "turns, import, people, keys",
        ApiScope.Compute => "open computations",
    };
}
