using System.Globalization;
using System.Text;
using CsvHelper;
using CsvHelper.Configuration;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Drainboard.Web.Hosting;

/// <summary>A table for a spreadsheet, where no cell is taken for a formula.</summary>
internal static class CsvText
{
    public static FileContentHttpResult File(string name, string text) => TypedResults.File(Encoding.UTF8.GetBytes(text), "text/csv; charset=utf-8", name);

    public static string Of(IEnumerable<string> columns, IEnumerable<IEnumerable<string?>> rows)
    {
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        using var csv = new CsvWriter(text, new CsvConfiguration(CultureInfo.InvariantCulture) { InjectionOptions = InjectionOptions.Escape });
        foreach (var row in rows.Prepend(columns))
        {
            foreach (var cell in row)
            {
                csv.WriteField(cell);
            }

            csv.NextRecord();
        }

        csv.Flush();
        return text.ToString();
    }

    /// <summary>All the digits there are: the reader rounds.</summary>
    public static string Number(double? value) => value?.ToString("R", CultureInfo.InvariantCulture) ?? "";
}
