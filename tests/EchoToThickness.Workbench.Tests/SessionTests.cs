using EchoToThickness.Workbench.Sessions;
using Xunit;

namespace EchoToThickness.Workbench.Tests;

public sealed class SessionTests
{
    [Fact]
    public void History_UndoThenNewText_ForgetsWhatWasUndone()
    {
        var history = new ProcedureHistory("a");
        history.Push("b", "to b");
        history.Push("c", "to c");
        history.Push("c", "nothing");
        Assert.Equal("to c", history.UndoLabel);
        history.Step(-1);
        Assert.Equal(("b", "to b", "to c"), (history.Text, history.UndoLabel, history.RedoLabel));
        history.Push("d", "to d");
        Assert.Null(history.RedoLabel);
        history.Step(-9);
        Assert.Equal("a", history.Text);
        Assert.True(history.IsSaved);
        history.Step(9);
        Assert.Equal("d", history.Text);
        Assert.False(history.IsSaved);
        history.MarkSaved();
        Assert.True(history.IsSaved);
    }

    [Fact]
    public void History_LongSession_KeepsTheNewest()
    {
        var history = new ProcedureHistory("0");
        for (int i = 1; i <= ProcedureHistory.Most + 50; i++)
            history.Push($"{i}", "step");
        Assert.Equal($"{ProcedureHistory.Most + 50}", history.Text);
        history.Step(-10_000);
        Assert.Equal("51", history.Text);
    }

    [Theory]
    [InlineData("scan.h5", "scan.h5")]
    [InlineData("my scan.h5", "'my scan.h5'")]
    [InlineData("it's", "'it'\\''s'")]
    [InlineData("$(rm x)", "'$(rm x)'")]
    [InlineData("", "''")]
    public void Quote_Word_IsReadBackByTheShell(string word, string quoted) =>
        Assert.Equal(quoted, ReplayCommand.Quote(word));

    [Fact]
    public void Replay_NamesEverythingThatWasOpened() =>
        Assert.Equal(
            "ett explain 'a b.h5' -l map.toml --line top -p p.toml --scan 3 --beam 4",
            ReplayCommand.Explain(
                new WorkbenchOptions
                {
                    StackPath = "a b.h5",
                    LayoutPath = "map.toml",
                    Line = "top",
                },
                "p.toml",
                3,
                4
            )
        );

    [Fact]
    public async Task Supersede_NewerWish_StopsTheOlderOne()
    {
        await using OpenWorkbench open = await OpenWorkbench.StartAsync();
        CancellationTokenSource first = open.Session.Supersede(CancellationToken.None);
        CancellationTokenSource second = open.Session.Supersede(CancellationToken.None);
        Assert.True(first.IsCancellationRequested);
        Assert.False(second.IsCancellationRequested);
        open.Session.Ended(first);
        open.Session.Ended(second);
    }

    [Fact]
    public async Task Open_GridOfAnotherStack_IsRefusedInWords()
    {
        await using OpenWorkbench open = await OpenWorkbench.StartAsync();
        WorkbenchException error = Assert.Throws<WorkbenchException>(() =>
            WorkbenchSession.Open(
                new WorkbenchOptions { StackPath = open.In("scan.h5"), Line = "nowhere" },
                CancellationToken.None
            )
        );
        Assert.Contains("no scan line 'nowhere'", error.Message, StringComparison.Ordinal);
    }
}
