using System.Text.Json;

namespace Drainboard.Domain.Tests.Vectors;

/// <summary>Published and worked numbers, each file with its sources inside.</summary>
internal static class Vector
{
    public static JsonElement Read(string name) => JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Vectors", $"{name}.json"))).RootElement;

    public static double Number(this JsonElement element, string member) => element.GetProperty(member).GetDouble();
}
