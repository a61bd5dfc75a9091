using Drainboard.Domain;
using Microsoft.EntityFrameworkCore.Storage.ValueConversion;

namespace Drainboard.Data.Conversions;

internal sealed class IdConverter<TId>() : ValueConverter<TId, Guid>(id => id.Value, value => Make(value))
    where TId : struct, IId<TId>
{
    private static TId Make(Guid value) => TId.From(value);
}
