using System.Globalization;

namespace EchoToThickness.Workbench.Sessions;

/// <summary>The command lines that do again what the page shows.</summary>
internal static class ReplayCommand
{
    public static string Measure(WorkbenchOptions options, string? procedure, string grid) =>
        $"ett measure {Stack(options, procedure)} -o {Quote(grid)}";

    public static string Explain(WorkbenchOptions options, string? procedure, int scan, int beam) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"ett explain {Stack(options, procedure)} --scan {scan} --beam {beam}"
        );

    private static string Stack(WorkbenchOptions options, string? procedure) =>
        Quote(options.StackPath)
        + (options.LayoutPath is { } layout ? " -l " + Quote(layout) : "")
        + (options.Line is { } line ? " --line " + Quote(line) : "")
        + (procedure is null ? "" : " -p " + Quote(procedure));

    /// <summary>A word as the shell reads it back.</summary>
    public static string Quote(string word) =>
        word.Length > 0
        && word.All(c => char.IsAsciiLetterOrDigit(c) || "/._-+:,@%=".Contains(c, StringComparison.Ordinal))
            ? word
            : "'" + word.Replace("'", "'\\''", StringComparison.Ordinal) + "'";
}
