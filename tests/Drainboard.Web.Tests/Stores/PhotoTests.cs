using System.Text;
using Drainboard.Testing;
using Drainboard.Web.Features.Defects;
using SkiaSharp;

namespace Drainboard.Web.Tests.Stores;

/// <summary>What is kept of a photo: the picture, upright and no larger than useful, and nothing that came along with it.</summary>
public sealed class PhotoTests
{
    [Fact]
    public async Task Photo_OfAPhoneHeldUpright_IsTurnedAndLosesWhereItWasTaken()
    {
        var sent = TestPhotos.FromAPhone();
        Assert.Contains(TestPhotos.Place, Encoding.Latin1.GetString(sent), StringComparison.Ordinal);

        var (kept, no) = await PhotoRules.TakeAsync(sent, TestContext.Current.CancellationToken);

        Assert.Null(no);
        var text = Encoding.Latin1.GetString(kept!);
        Assert.DoesNotContain(TestPhotos.Place, text, StringComparison.Ordinal);
        Assert.DoesNotContain("Exif", text, StringComparison.Ordinal);
        using var bitmap = SKBitmap.Decode(kept);
        Assert.Equal((32, 64), (bitmap.Width, bitmap.Height));

        // A quarter clockwise: what lay left stands at the top.
        Assert.True(bitmap.GetPixel(16, 8) is { Red: > 200, Blue: < 60 }, $"{bitmap.GetPixel(16, 8)}");
        Assert.True(bitmap.GetPixel(16, 56) is { Blue: > 200, Red: < 60 }, $"{bitmap.GetPixel(16, 56)}");
    }

    [Fact]
    public async Task Photo_LargerThanUseful_IsMadeSmallerInProportion()
    {
        var (kept, _) = await PhotoRules.TakeAsync(TestPhotos.Jpeg(4000, 1000), TestContext.Current.CancellationToken);
        using var bitmap = SKBitmap.Decode(kept);
        Assert.Equal((2048, 512), (bitmap.Width, bitmap.Height));
    }

    [Fact]
    public async Task Photo_TakenTwice_IsTheSameBytes() =>
        Assert.Equal((await PhotoRules.TakeAsync(TestPhotos.Png(), TestContext.Current.CancellationToken)).Kept, (await PhotoRules.TakeAsync(TestPhotos.Png(), TestContext.Current.CancellationToken)).Kept);

    [Fact]
    public async Task Photo_WithManyPixelsInFewBytes_IsRefusedBeforeItIsUnpacked()
    {
        var bomb = TestPhotos.Png(7000, 6000);
        Assert.True(bomb.Length < 1024 * 1024, $"{bomb.Length}");
        Assert.Equal("photo-pixels", (await PhotoRules.TakeAsync(bomb, TestContext.Current.CancellationToken)).No!.Code);
    }

    public static TheoryData<string, byte[]> Unfit => new()
    {
        { "photo-size", [] },
        { "photo-size", new byte[PhotoRules.LargestBytes + 1] },
        { "photo-kind", "GIF89a"u8.ToArray() },
        { "photo-kind", "<svg xmlns='http://www.w3.org/2000/svg'/>"u8.ToArray() },
        { "photo-damaged", [0xFF, 0xD8, 0xFF, 1, 2, 3] },
        { "photo-damaged", TestPhotos.Jpeg(800, 600)[..^700] },
        { "photo-damaged", TestPhotos.Png(800, 600)[..^200] },
    };

    [Theory]
    [MemberData(nameof(Unfit))]
    public async Task Photo_ThatIsNone_IsRefusedInItsOwnWords(string code, byte[] bytes) =>
        Assert.Equal(code, (await PhotoRules.TakeAsync(bytes, TestContext.Current.CancellationToken)).No?.Code);

    /// <summary>Ten thousand pictures with a few bytes changed: each is taken or refused, and none brings the service down.</summary>
    [Fact]
    public async Task Photo_WithBytesChangedAnywhere_IsTakenOrRefused()
    {
        var dice = new Random(6);
        byte[][] good = [TestPhotos.Jpeg(), TestPhotos.Png(), TestPhotos.FromAPhone()];
        for (var time = 0; time < 10_000; time++)
        {
            var bytes = (byte[])good[time % good.Length].Clone();
            for (var change = dice.Next(1, 6); change > 0; change--)
            {
                bytes[dice.Next(3, bytes.Length)] = (byte)dice.Next(256);
            }

            var (kept, no) = await PhotoRules.TakeAsync(bytes, TestContext.Current.CancellationToken);
            Assert.True(kept is null != no is null);
        }
    }
}
