using Drainboard.Web.Hosting;

// The display culture is ours, not the server's: figures and dates read alike on every machine.
System.Globalization.CultureInfo.DefaultThreadCurrentCulture = Words.Culture;
System.Globalization.CultureInfo.DefaultThreadCurrentUICulture = Words.Culture;

return CommandLine.Find(args) is { } command
    ? await command.RunAsync()
    : await WebHost.RunAsync(args);

/// <summary>Named so that tests can start the program.</summary>
public sealed partial class Program;
