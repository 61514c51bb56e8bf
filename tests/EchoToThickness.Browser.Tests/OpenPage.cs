using EchoToThickness.Browser.Tests.Driver;
using EchoToThickness.Workbench;
using EchoToThickness.Workbench.Sessions;
using Xunit;

namespace EchoToThickness.Browser.Tests;

/// <summary>A page with the workbench behind it.</summary>
internal sealed record OpenPage(BrowserPage Page, WorkbenchServer Server, WorkbenchSession Session, string Procedure)
    : IAsyncDisposable
{
    /// <summary>Waits until the newest rules are measured in full, every layer of them.</summary>
    public Task SettledAsync() =>
        Page.WaitAsync(
            "!workbench.previewing && workbench.timings.at(-1).full !== null && !workbench.timings.at(-1).live"
        );

    /// <summary>No script failed and nothing was refused. Answers that were cut off because a newer wish came are ordinary.</summary>
    public void HasNoComplaints() =>
        Assert.DoesNotContain(Page.Complaints, c => !c.Contains("ERR_", StringComparison.Ordinal));

    public Task<string> ValueAsync(string key) =>
        Page.RunAsync<string>($"workbench.values[{System.Text.Json.JsonSerializer.Serialize(key)}] ?? ''");

    /// <summary>Drags an element by real mouse events, some steps on the way.</summary>
    public async Task DragAsync(string selector, double dx, double dy)
    {
        (double x, double y) = await Page.PlaceAsync(selector);
        await Page.MouseAsync("mouseMoved", x, y);
        await Page.MouseAsync("mousePressed", x, y, true);
        for (int i = 1; i <= 8; i++)
            await Page.MouseAsync("mouseMoved", x + dx * i / 8, y + dy * i / 8, true);
        await Page.MouseAsync("mouseReleased", x + dx, y + dy);
    }

    public async ValueTask DisposeAsync()
    {
        await Page.DisposeAsync();
        await Server.DisposeAsync();
        Session.Dispose();
    }
}
