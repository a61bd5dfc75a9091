using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using Microsoft.EntityFrameworkCore.Storage.ValueConversion;

namespace Drainboard.Data.Conversions;

internal sealed class StationCodeConverter() : ValueConverter<StationCode, string>(code => code.Value, text => StationCode.Parse(text));

internal sealed class RegistrationConverter() : ValueConverter<Registration, string>(mark => mark.Value, text => Registration.Parse(text));

internal sealed class PositionConverter() : ValueConverter<Position, string>(position => position.Value, text => Position.Parse(text));

internal sealed class ChainKeyConverter() : ValueConverter<ChainKey, string>(chain => chain.Value, text => ChainKey.Stored(text));
