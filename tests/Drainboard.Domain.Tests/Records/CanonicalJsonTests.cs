using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Drainboard.Domain.Records;
using Drainboard.Domain.Tests.Vectors;

namespace Drainboard.Domain.Tests.Records;

/// <summary>RFC 8785: its sample documents and the number table of its appendix B (vector file 18 names the sources).</summary>
public sealed class CanonicalJsonTests
{
    private static readonly JsonElement File18 = Vector.Read("18_jcs_rfc8785");

    [Fact]
    public void Write_EveryNumberOfTheTable_IsExact()
    {
        foreach (var row in File18.GetProperty("numbers").EnumerateArray())
        {
            var number = BitConverter.UInt64BitsToDouble(ulong.Parse(row.GetProperty("ieee754").GetString()!, NumberStyles.HexNumber, CultureInfo.InvariantCulture));
            Assert.Equal(row.GetProperty("json").GetString(), CanonicalJson.Write(number));
        }
    }

    [Fact]
    public void Write_EverySampleDocument_IsExactToTheByte()
    {
        foreach (var row in File18.GetProperty("docs").EnumerateArray())
        {
            using var input = JsonDocument.Parse(row.GetProperty("input").GetString()!);
            var bytes = Encoding.UTF8.GetBytes(CanonicalJson.Write(Plain(input.RootElement)));
            Assert.Equal(row.GetProperty("utf8_hex").GetString(), Convert.ToHexStringLower(bytes));
            Assert.Equal(row.GetProperty("sha256").GetString(), Convert.ToHexStringLower(SHA256.HashData(bytes)));
        }
    }

    [Fact]
    public void Write_KeysBeyondTheBasicPlane_AreOrderedByUtf16()
    {
        var order = File18.GetProperty("order_trap").GetProperty("utf16_order").EnumerateArray().Select(key => key.GetString()!).ToArray();
        var text = CanonicalJson.Write(order.Reverse().ToDictionary(key => key, _ => (object)1L));
        Assert.True(text.IndexOf(order[0], StringComparison.Ordinal) < text.IndexOf(order[1], StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    [InlineData(double.NegativeInfinity)]
    public void Write_WhatIsNoNumber_IsRefused(double number) => Assert.Throws<ArgumentException>(() => CanonicalJson.Write(number));

    [Fact]
    public void Write_HalfASurrogatePair_IsRefused() => Assert.Throws<ArgumentException>(() => CanonicalJson.Write("a\ud83d"));

    private static object? Plain(JsonElement element) => element.ValueKind switch
    {
        JsonValueKind.Object => element.EnumerateObject().ToDictionary(member => member.Name, member => Plain(member.Value)!),
        JsonValueKind.Array => element.EnumerateArray().Select(Plain).ToArray(),
        JsonValueKind.String => element.GetString(),
        JsonValueKind.Number => element.GetDouble(),
        JsonValueKind.True => true,
        JsonValueKind.False => false,
        _ => null,
    };
}
