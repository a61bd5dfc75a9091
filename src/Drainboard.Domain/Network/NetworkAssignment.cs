namespace Drainboard.Domain.Network;

/// <summary>The stay that an item is planned for.</summary>
public sealed record NetworkAssignment(string Item, string Stay);
