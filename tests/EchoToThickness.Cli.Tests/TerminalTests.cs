using EchoToThickness.Cli.Terminal;
using EchoToThickness.Reporting.Explain;
using Xunit;

namespace EchoToThickness.Cli.Tests;

public sealed class TerminalTests
{
    [Theory]
    [InlineData("measrue", "measure")]
    [InlineData("--layuot", "--layout")]
    [InlineData("x", null)]
    [InlineData("quite-different", null)]
    public void Nearest_MistypedWord_IsGuessedOnlyWhenNear(string typed, string? expected) =>
        Assert.Equal(expected, Guess.Nearest(typed, ["measure", "explain", "--layout", "--line"]));

    [Fact]
    public void Wrap_LongText_BreaksAtBlanksAndKeepsEveryWord()
    {
        string text = string.Join(' ', Enumerable.Range(0, 60).Select(i => new string('w', 1 + i % 9)));
        string wrapped = TextLayout.Wrap(text, 30, 2, 3);
        string[] lines = wrapped.TrimEnd('\n').Split('\n');
        Assert.All(lines, line => Assert.InRange(line.Length, 3, 30));
        Assert.StartsWith("  w", lines[0], StringComparison.Ordinal);
        Assert.All(lines.Skip(1), line => Assert.StartsWith("     w", line, StringComparison.Ordinal));
        Assert.Equal(text, string.Join(' ', lines.Select(l => l.Trim())));
    }

    [Fact]
    public void Line_HalfDone_ShowsPartRateAndTimeLeft()
    {
        // 500 k of 1 M A-scans in 2 s: 250 k a second, 2 s left.
        Assert.Equal(
            "measuring 50 %, 250 k A-scans/s, 2 s left",
            ProgressLine.Line("measuring", 500_000, 1_000_000, 2, false)
        );
        Assert.Equal(
            "measuring [============            ] 50 %, 250 k A-scans/s, 2 s left",
            ProgressLine.Line("measuring", 500_000, 1_000_000, 2, true)
        );
    }

    [Theory]
    [InlineData(0.5, "0.5 s")]
    [InlineData(42.4, "42 s")]
    [InlineData(125, "2 min 5 s")]
    [InlineData(7384, "2 h 3 min")]
    public void Duration_InWords(double seconds, string expected) =>
        Assert.Equal(expected, ProgressLine.Duration(seconds));

    [Theory]
    [InlineData(2_345_678, "2.3 M A-scans/s")]
    [InlineData(98_000, "98 k A-scans/s")]
    [InlineData(1234, "1234 A-scans/s")]
    public void Rate_InWords(double perSecond, string expected) => Assert.Equal(expected, ProgressLine.Rate(perSecond));

    [Fact]
    public void Progress_NotATerminal_IsQuietForTenSeconds()
    {
        using var words = new StringWriter();
        using (var progress = new ProgressLine(new Talk(TextWriter.Null, words, false), "measuring"))
            progress.Report(1, 2);
        Assert.Equal("", words.ToString());
    }
}
