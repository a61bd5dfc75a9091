using Drainboard.Data;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Records;
using NodaTime;

namespace Drainboard.Web.Features.Door;

/// <summary>One attempt at a change: a context of its own, the time, the person, and the facts that will go on record with it.</summary>
public sealed class Attempt(DrainboardDb db, Instant now, Actor actor, CancellationToken stop)
{
    private readonly List<Deed> _deeds = [];
    private Func<long> _version = () => 0;
    private Func<string>? _words;
    private Func<string>? _reference;

    public DrainboardDb Db { get; } = db;

    public Instant Now { get; } = now;

    public Actor Actor { get; } = actor;

    public CancellationToken Stop { get; } = stop;

    public IReadOnlyList<Deed> Deeds => _deeds;

    public void Record(Fact fact) => _deeds.Add(new Deed(fact, Actor, Now));

    /// <summary>It will be done once saved; the version is read after the save raised it.</summary>
    public Answer Done(Guid id, Func<long> version, string words)
    {
        _version = version;
        return new Answer.Done(id, 0, words);
    }

    /// <summary>As above, where words and reference are known only once numbers are given out.</summary>
    public Answer Done(Guid id, Func<long> version, Func<string> words, Func<string> reference)
    {
        (_words, _reference) = (words, reference);
        return Done(id, version, "");
    }

    public Answer.Done Settle(Answer.Done done) => done with { Version = _version(), Words = _words?.Invoke() ?? done.Words, Reference = _reference?.Invoke() };

    /// <summary>Raises the version of something whose parts changed, so that another person's older view of it is stale.</summary>
    public void Touch(object entity) => Db.Entry(entity).Property("Version").IsModified = true;
}
