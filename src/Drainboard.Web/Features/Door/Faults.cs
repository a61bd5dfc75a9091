using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Mvc;

namespace Drainboard.Web.Features.Door;

/// <summary>What is wrong with a body, by the camelCase path of the member, all of it at once.</summary>
internal sealed class Faults
{
    private readonly Dictionary<string, List<string>> _all = [];

    public bool Any => _all.Count > 0;

    public void Add(string path, string words)
    {
        if (!_all.TryGetValue(path, out var list))
        {
            _all[path] = list = [];
        }

        list.Add(words);
    }

    public string Words => string.Join(" ", _all.Select(pair => $"{pair.Key}: {string.Join(" ", pair.Value)}"));

    public ProblemHttpResult ToHttp() => TypedResults.Problem(new ProblemDetails
    {
        Status = StatusCodes.Status400BadRequest,
        Title = "The request cannot be read",
        Detail = Words,
        Extensions = { ["errors"] = _all.ToDictionary(pair => pair.Key, pair => pair.Value.ToArray()) },
    });
}
