namespace EchoToThickness.Cli.Terminal;

/// <summary>Where a command speaks: data to one stream, talk to another.</summary>
/// <param name="Data">Results, and nothing else.</param>
/// <param name="Words">Progress, summaries, warnings, errors.</param>
/// <param name="IsTerminal">Whether <paramref name="Words"/> is a terminal on which a line can be redrawn.</param>
public sealed record Talk(TextWriter Data, TextWriter Words, bool IsTerminal)
{
    /// <summary>Columns that text is wrapped to; the same on every terminal, so that logs and documents look alike.</summary>
    public const int Columns = TextLayout.Columns;

    /// <summary>The streams of this process.</summary>
    public static Talk OfProcess() => new(Console.Out, Console.Error, !Console.IsErrorRedirected);

    /// <summary>Writes a paragraph of talk, wrapped.</summary>
    /// <param name="text">Text; line breaks are kept.</param>
    public void Say(string text) => Words.Write(TextLayout.Wrap(text, Columns));
}
