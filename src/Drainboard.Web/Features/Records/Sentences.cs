namespace Drainboard.Web.Features.Records;

/// <summary>Steps as people typed them, run together as sentences.</summary>
public static class Sentences
{
    public static string Join(IEnumerable<string> steps) =>
        string.Join(' ', steps.Select(step => step.Trim()).Where(step => step.Length > 0).Select(step => step[^1] is '.' or '!' or '?' or ';' ? step : $"{step}."));
}
