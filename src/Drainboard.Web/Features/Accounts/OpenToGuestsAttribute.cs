namespace Drainboard.Web.Features.Accounts;

/// <summary>An address that a guest for one tail may ask too: what it shows or does keeps to the asker and to their tail by itself.</summary>
[AttributeUsage(AttributeTargets.Class)]
public sealed class OpenToGuestsAttribute : Attribute;
