namespace Drainboard.Domain.Defects;

/// <summary>The answer to "others too?": whether more fixtures do the same, which leads to what they share.</summary>
public enum OthersToo
{
    DidNotLook,
    OnlyThis,
    Others,
}
