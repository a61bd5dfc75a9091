using System.Globalization;
using System.Text.Json;
using CsvHelper;
using CsvHelper.Configuration;

namespace Drainboard.Web.Features.SetUp;

/// <summary>The files of an import, by name, whether they come from a folder, a form or a program; CSV and JSON end in the same rows.</summary>
internal sealed class ImportSource
{
    /// <summary>As a spreadsheet counts: the heading is row 1.</summary>
    private const int FirstCsvRow = 2;

    private readonly Dictionary<string, List<ImportRow>> _rows = [];
    private readonly List<ImportFault> _faults;

    private ImportSource(IReadOnlyDictionary<string, string> files, List<ImportFault> faults)
    {
        _faults = faults;
        foreach (var (file, text) in files.OrderBy(pair => pair.Key, StringComparer.Ordinal))
        {
            Read(file, text);
        }
    }

    public static ImportSource Of(IReadOnlyDictionary<string, string> files, List<ImportFault> faults) => new(files, faults);

    /// <exception cref="DirectoryNotFoundException">There is no such folder.</exception>
    public static async Task<IReadOnlyDictionary<string, string>> ReadFolderAsync(string folder, CancellationToken stop)
    {
        var files = new Dictionary<string, string>();
        foreach (var path in Directory.EnumerateFiles(folder).Where(path => Path.GetExtension(path).ToLowerInvariant() is ".csv" or ".json"))
        {
            files[Path.GetFileName(path)] = await File.ReadAllTextAsync(path, stop);
        }

        return files;
    }

    public IReadOnlyList<ImportRow> Rows(string table) => _rows.GetValueOrDefault(table) ?? [];

    private void Read(string file, string text)
    {
        if (ImportTable.Find(Path.GetFileNameWithoutExtension(file)) is not { } table)
        {
            _faults.Add(new ImportFault(file, null, null, $"No table has this name. The tables are: {string.Join(", ", ImportTable.All.Select(one => one.Name))}."));
            return;
        }

        if (_rows.ContainsKey(table.Name))
        {
            _faults.Add(new ImportFault(file, null, null, $"The table {table.Name} is given twice. Put its rows into one file."));
            return;
        }

        try
        {
            _rows[table.Name] = Path.GetExtension(file).Equals(".json", StringComparison.OrdinalIgnoreCase) ? ReadJson(file, text, table) : ReadCsv(file, text, table);
        }
        catch (Exception failure) when (failure is CsvHelperException or JsonException)
        {
            _faults.Add(new ImportFault(file, null, null, $"Cannot be read: {failure.Message.Split('\n')[0]}"));
        }
    }

    private List<ImportRow> ReadCsv(string file, string text, ImportTable table)
    {
        using var csv = new CsvReader(new StringReader(text), new CsvConfiguration(CultureInfo.InvariantCulture) { TrimOptions = TrimOptions.Trim, BadDataFound = null, MissingFieldFound = null });
        var rows = new List<ImportRow>();
        if (!csv.Read() || !csv.ReadHeader())
        {
            _faults.Add(new ImportFault(file, null, null, $"Is empty. The first row names the columns: {string.Join(",", table.Required.Concat(table.Optional))}."));
            return rows;
        }

        var columns = csv.HeaderRecord!.Select(name => Known(file, table, name)).ToArray();
        foreach (var missing in table.Required.Except(columns.OfType<string>()))
        {
            _faults.Add(new ImportFault(file, null, missing, "This column is missing. Add it to the first row."));
        }

        while (csv.Read())
        {
            var values = new Dictionary<string, string>();
            for (var index = 0; index < columns.Length && index < csv.Parser.Count; index++)
            {
                if (columns[index] is { } column)
                {
                    values[column] = csv.Parser[index];
                }
            }

            if (csv.Parser.Count > columns.Length)
            {
                _faults.Add(new ImportFault(file, rows.Count + FirstCsvRow, null, $"Has {csv.Parser.Count} values for {columns.Length} columns. Put quotes around a value with a comma in it."));
            }

            rows.Add(new ImportRow(file, rows.Count + FirstCsvRow, values, _faults));
        }

        return rows;
    }

    private List<ImportRow> ReadJson(string file, string text, ImportTable table)
    {
        using var document = JsonDocument.Parse(text);
        var rows = new List<ImportRow>();
        if (document.RootElement.ValueKind != JsonValueKind.Array)
        {
            _faults.Add(new ImportFault(file, null, null, "Is not a list. Write [ { ... }, { ... } ]."));
            return rows;
        }

        foreach (var element in document.RootElement.EnumerateArray())
        {
            var values = new Dictionary<string, string>();
            foreach (var member in element.ValueKind == JsonValueKind.Object ? element.EnumerateObject() : default)
            {
                if (Known(file, table, member.Name) is { } column)
                {
                    values[column] = member.Value.ValueKind switch
                    {
                        JsonValueKind.Null => "",
                        JsonValueKind.Array => string.Join(';', member.Value.EnumerateArray().Select(one => one.ToString())),
                        _ => member.Value.ToString(),
                    };
                }
            }

            rows.Add(new ImportRow(file, rows.Count + 1, values, _faults));
        }

        return rows;
    }

    private string? Known(string file, ImportTable table, string name)
    {
        var column = table.Column(name);
        if (column is null && !_faults.Any(fault => fault.File == file && fault.Column == name))
        {
            _faults.Add(new ImportFault(file, null, name, $"No such column. The columns are: {string.Join(", ", table.Required.Concat(table.Optional))}."));
        }

        return column;
    }
}
