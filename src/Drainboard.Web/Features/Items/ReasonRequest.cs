namespace Drainboard.Web.Features.Items;

/// <summary>A change that needs no more than its reason.</summary>
public sealed record ReasonRequest(string Reason);
