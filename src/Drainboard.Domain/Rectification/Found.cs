namespace Drainboard.Domain.Rectification;

/// <summary>What was found. Always asked: it is what the next technician and the engineer learn from.</summary>
public enum Found
{
    Grounds,
    Food,
    Fat,
    Packaging,
    HairAndSoap,
    Paper,
    Ice,
    Scale,
    ForeignObject,
    FailedPart,
    Nothing,
}
