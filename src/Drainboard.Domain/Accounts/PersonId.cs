namespace Drainboard.Domain.Accounts;

/// <summary>Identity of a person with an account. Equality by value; no order; the default is nobody.</summary>
public readonly record struct PersonId(Guid Value) : IId<PersonId>
{
    public static PersonId From(Guid value) => new(value);
}
