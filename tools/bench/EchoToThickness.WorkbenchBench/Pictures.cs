using EchoToThickness.Browser.Tests.Driver;
using EchoToThickness.Workbench;
using EchoToThickness.Workbench.Sessions;

namespace EchoToThickness.WorkbenchBench;

/// <summary>The screenshots of docs/workbench.md, and larger ones to look at.</summary>
internal static class Pictures
{
    public static async Task MakeAsync(Chromium chromium, string stack, string gates, string folder)
    {
        Directory.CreateDirectory(folder);
        (string Name, string? Procedure, int Width, int Height, bool Dark, string What)[] pictures =
        [
            ("light", gates, 1366, 768, false, "cell"),
            ("dark", null, 1366, 768, true, "doubtful"),
            ("compare", gates, 1366, 768, false, "swipe"),
            ("change", gates, 1366, 768, true, "change"),
            ("views", null, 1366, 1300, false, "views"),
            ("4k-light", gates, 3840, 2160, false, "rules"),
            ("4k-dark", null, 3840, 2160, true, "views"),
        ];
        foreach ((string name, string? procedure, int width, int height, bool dark, string what) in pictures)
            await OneAsync(
                chromium,
                stack,
                procedure,
                Path.Combine(folder, $"workbench-{name}.png"),
                width,
                height,
                dark,
                what
            );
    }

    private static async Task OneAsync(
        Chromium chromium,
        string stack,
        string? procedure,
        string path,
        int width,
        int height,
        bool dark,
        string what
    )
    {
        using WorkbenchSession session = WorkbenchSession.Open(
            new WorkbenchOptions { StackPath = stack, ProcedurePath = procedure },
            CancellationToken.None
        );
        await using WorkbenchServer server = await WorkbenchServer.StartAsync(session, Console.Error.WriteLine);
        await using BrowserPage page = await chromium.OpenAsync(server.Url, width, height, dark);
        await page.WaitAsync("document.documentElement.dataset.ready", 120);
        await page.RunAsync("import('./store.js').then((s) => { s.selectCell(100, 66); })");
        switch (what)
        {
            case "rules":
                await page.ClickAsync("#tab-rules");
                break;
            case "doubtful":
                await page.ClickAsync("#tab-doubt");
                await page.KeyAsync("n");
                break;
            case "swipe" or "change":
                await page.ClickAsync("#tab-compare");
                await ChooseAsync(page, "The defaults");
                await page.WaitAsync("document.querySelector('#change-table')", 60);
                await ChooseAsync(page, what == "swipe" ? "Swipe" : "Change");
                break;
            case "views":
                foreach (string view in (string[])["scan", "beam", "profiles", "histogram"])
                    await page.RunAsync($"document.querySelector('#view-{view}').click()");
                break;
        }
        await Task.Delay(1500);
        await page.ScreenshotAsync(path);
        foreach (string complaint in page.Complaints)
            Console.Error.WriteLine($"{Path.GetFileName(path)}: {complaint}");
    }

    private static Task ChooseAsync(BrowserPage page, string button) =>
        page.RunAsync(
            $"[...document.querySelectorAll('#page-compare button')].find((b) => b.textContent === '{button}').click()"
        );
}
