using Drainboard.Domain.Accounts;

namespace Drainboard.Domain.Defects;

/// <summary>One lawful step of a defect's life: from, by which act, to which states, and what it needs, in words. Who may is in <see cref="Permissions"/>.</summary>
public sealed record Transition(DefectState From, Act Act, IReadOnlyList<DefectState> To, string Needs);
