namespace Drainboard.Domain.Isolation;

/// <summary>What the pours say about every segment. Marginals need not sum to one: several may be blocked.</summary>
/// <param name="TopStates">The three most likely states of the whole drain.</param>
/// <param name="SingleFault">For each segment the probability that it and nothing else is blocked, normalised over all segments: what the order of opening goes by.</param>
/// <param name="NextPours">Untested fixtures, the one that tells most first.</param>
public sealed record DrainPosterior(
    double EvidenceProbability,
    IReadOnlyDictionary<string, double> Marginals,
    IReadOnlyList<BlockedState> TopStates,
    IReadOnlyDictionary<string, double> SingleFault,
    IReadOnlyList<PourGain> NextPours);
