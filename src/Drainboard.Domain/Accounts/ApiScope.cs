namespace Drainboard.Domain.Accounts;

/// <summary>What an API key may be used for, whatever the person behind it may do. A key needs both.</summary>
public enum ApiScope
{
    Read,
    Report,
    Work,
    Defer,
    Sign,
    SetUp,
    Compute,
}
