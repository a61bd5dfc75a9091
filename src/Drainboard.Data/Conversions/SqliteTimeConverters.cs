using Microsoft.EntityFrameworkCore.Storage.ValueConversion;
using NodaTime;
using NodaTime.Text;

namespace Drainboard.Data.Conversions;

// SQLite has no instants: whole ticks since the Unix epoch compare and order as they should, text dates in ISO form too.
internal sealed class InstantTicksConverter() : ValueConverter<Instant, long>(at => at.ToUnixTimeTicks(), ticks => Instant.FromUnixTimeTicks(ticks));

internal sealed class LocalDateTextConverter() : ValueConverter<LocalDate, string>(day => LocalDatePattern.Iso.Format(day), text => LocalDatePattern.Iso.Parse(text).Value);

internal sealed class LocalTimeTextConverter() : ValueConverter<LocalTime, string>(time => LocalTimePattern.ExtendedIso.Format(time), text => LocalTimePattern.ExtendedIso.Parse(text).Value);

internal sealed class DateTimeOffsetTicksConverter() : ValueConverter<DateTimeOffset, long>(at => at.UtcTicks, ticks => new DateTimeOffset(ticks, TimeSpan.Zero));
