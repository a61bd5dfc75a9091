using Drainboard.Domain.Accounts;
using NodaTime;

namespace Drainboard.Data.Accounts;

/// <summary>With what a person signed in.</summary>
public enum SignInMeans
{
    Password,
    Passkey,

    /// <summary>Chosen from a demo's list of invented people.</summary>
    Demo,
}

/// <summary>One signed-in browser of one person, until it is ended or has stood too long.</summary>
public sealed class SignIn
{
    /// <summary>However often a browser comes back, after this a person signs in anew (our choice: a week of shifts).</summary>
    public static readonly Duration Longest = Duration.FromDays(7);

    public const int LongestAgent = 200;

    private SignIn()
    {
    }

    public SignIn(Guid id, PersonId person, SignInMeans means, string agent, Instant at) =>
        (Id, Person, Means, Agent, BeganAt) = (id, person, means, agent.Length > LongestAgent ? agent[..LongestAgent] : agent, at);

    public Guid Id { get; private set; }

    public PersonId Person { get; private set; }

    public SignInMeans Means { get; private set; }

    /// <summary>What the browser says it is.</summary>
    public string Agent { get; private set; } = "";

    public Instant BeganAt { get; private set; }

    public Instant? EndedAt { get; private set; }

    public void End(Instant at) => EndedAt = at;
}
