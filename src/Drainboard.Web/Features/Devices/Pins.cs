using Drainboard.Data;
using Drainboard.Data.Accounts;
using Drainboard.Domain;
using Drainboard.Web.Features.Accounts;
using Drainboard.Web.Hosting;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Devices;

/// <summary>The PIN with which a person shows who they are at an enrolled device, and nowhere else. It opens looking and reporting only.</summary>
public sealed class Pins(IDbContextFactory<DrainboardDb> factory, Secrets secrets)
{
    public const int Shortest = 6;
    public const int Longest = 12;

    public static Refusal? WhyNotChosen(string pin) =>
        pin.Length is < Shortest or > Longest || !pin.All(char.IsAsciiDigit)
            ? new Refusal("pin-digits", $"A PIN has {Shortest} to {Longest} digits.")
        : SigningCodes.IsGuessed(pin)
            ? new Refusal("pin-simple", "This PIN is guessed at once. Choose one that is not a run of digits or one digit again and again.")
        : null;

    /// <summary>The person with this user name and PIN, or why not. A name that is not known is answered as a wrong PIN is, and takes as long.</summary>
    public async Task<(Person? Person, Refusal? No)> FindAsync(Device device, string userName, string pin, CancellationToken stop)
    {
        if (await secrets.CountAtAsync(device, stop) is { } closed)
        {
            return (null, new Refusal("device-locked", $"Too many wrong PINs at this device. It looks at none for {Minutes(closed)} min. What waits on it is kept."));
        }

        var known = userName.Trim().ToUpperInvariant();
        await using var db = await factory.CreateDbContextAsync(stop);
        var person = await db.Users.AsNoTracking().SingleOrDefaultAsync(person => person.NormalizedUserName == known && !person.IsDisabled && person.PinHash != null, stop);
        if (person is null)
        {
            secrets.LookAtNobodys(pin);
            return (null, Wrong);
        }

        switch (await secrets.TryAsync(person, SecretKind.Pin, person.PinHash, pin, stop))
        {
            case { IsRight: true }:
                await secrets.GiveBackAtAsync(device, stop);
                return (person, null);
            case { Locked: { } left }:
                return (null, new Refusal("pin-locked", $"Too many wrong PINs. No PIN of this person is looked at for {Minutes(left)} min."));
            default:
                return (null, Wrong);
        }
    }

    private static string Minutes(Duration left) => Math.Ceiling(left.TotalMinutes).ToString("0", Words.Culture);

    private static Refusal Wrong { get; } = new("pin-wrong", $"User name and PIN do not belong together. A PIN is set on the page with your name (Me). After {Secrets.MostTries} wrong ones none is looked at for {Secrets.LockedFor.TotalMinutes:0} min.");
}
