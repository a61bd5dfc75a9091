using NodaTime;
using NodaTime.Text;

namespace Drainboard.Domain.Records;

/// <summary>
/// Something that was seen, decided, done or signed, on its way into the record. Fields hold text, whole numbers and yes or
/// no only (a measured quantity goes in as a whole number of a named small unit), so that its canonical form is plain.
/// The words tell it to people and name nobody: names stand beside the chain.
/// </summary>
public sealed class Fact(ChainKey chain, string kind, Guid subject, string words)
{
    private readonly SortedDictionary<string, object> _fields = new(StringComparer.Ordinal);

    public ChainKey Chain { get; } = chain;

    public string Kind { get; } = kind;

    /// <summary>The id of the defect, station or person that it is about.</summary>
    public Guid Subject { get; } = subject;

    public string Words { get; } = words;

    public IReadOnlyDictionary<string, object> Fields => _fields;

    /// <summary>Takes over the fields of another fact that this one tells as well; its own stand.</summary>
    public Fact Including(Fact other)
    {
        foreach (var (name, value) in other._fields)
        {
            _fields.TryAdd(name, value);
        }

        return this;
    }

    public Fact With(string name, string? text) => Put(name, text);

    public Fact With(string name, long number) => Put(name, number);

    public Fact With(string name, bool yes) => Put(name, yes);

    public Fact With(string name, Instant? at) => Put(name, at is { } instant ? InstantPattern.ExtendedIso.Format(instant) : null);

    public Fact With<TEnum>(string name, TEnum value)
        where TEnum : struct, Enum => Put(name, value.ToString());

    public Fact With(string name, Guid id) => Put(name, id.ToString());

    private Fact Put(string name, object? value)
    {
        if (value is not null)
        {
            _fields[name] = value;
        }

        return this;
    }
}
