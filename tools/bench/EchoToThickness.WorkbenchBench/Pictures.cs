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
        await OneAsync(chromium, stack, gates, Path.Combine(folder, "workbench-light.png"), 1366, 768, false, "gates");
        await OneAsync(chromium, stack, null, Path.Combine(folder, "workbench-dark.png"), 1366, 768, true, "doubtful");
        await OneAsync(
            chromium,
            stack,
            gates,
            Path.Combine(folder, "workbench-compare.png"),
            1366,
            768,
            false,
            "compare"
        );
        await OneAsync(chromium, stack, null, Path.Combine(folder, "workbench-views.png"), 1366, 1400, false, "views");
        await OneAsync(
            chromium,
            stack,
            gates,
            Path.Combine(folder, "workbench-4k-light.png"),
            3840,
            2160,
            false,
            "rules"
        );
        await OneAsync(chromium, stack, null, Path.Combine(folder, "workbench-4k-dark.png"), 3840, 2160, true, "views");
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
            case "compare":
                await page.ClickAsync("#tab-compare");
                await page.RunAsync(
                    "[...document.querySelectorAll('#page-compare button')].find((b) => b.textContent === 'The defaults').click()"
                );
                await page.WaitAsync("document.querySelector('#change-table')", 60);
                await page.RunAsync(
                    "[...document.querySelectorAll('#page-compare button')].find((b) => b.textContent === 'Swipe').click()"
                );
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
}
