using System.Globalization;
using System.Text.Json.Nodes;
using EchoToThickness.Browser.Tests.Driver;
using EchoToThickness.Simulation;
using EchoToThickness.Workbench;
using EchoToThickness.Workbench.Sessions;

namespace EchoToThickness.WorkbenchBench;

/// <summary>
/// Opens the workbench in a real browser, drags with real mouse events, and tells how long the map took to answer, from the time stamp of the
/// event to the frame after the pixels were painted. With --pictures FOLDER it makes the screenshots of docs/workbench.md instead.
/// </summary>
internal static class Program
{
    private static async Task<int> Main(string[] arguments)
    {
        if (Chromium.Find() is not { } browser)
        {
            Console.Error.WriteLine("No Chromium: install one, or name it with ETT_CHROMIUM.");
            return 2;
        }
        string folder = Directory.CreateTempSubdirectory("ett-workbench").FullName;
        int pictures = Array.IndexOf(arguments, "--pictures");
        string album = pictures >= 0 ? Path.GetFullPath(arguments[pictures + 1]) : "";
        try
        {
            // Names without a folder, as the pages show them.
            Directory.SetCurrentDirectory(folder);
            const string stack = "plate.h5";
            EchoTrainStack.Write(new EchoTrainSource(BenchScene.Scene), stack);
            const string gates = "gates.toml";
            File.Copy(Path.Combine(AppContext.BaseDirectory, "gates.toml"), gates);
            await using Chromium chromium = await Chromium.StartAsync(browser);
            if (pictures >= 0)
                await Pictures.MakeAsync(chromium, stack, gates, album);
            else
                await MeasureAsync(chromium, stack, gates);
            return 0;
        }
        finally
        {
            Directory.SetCurrentDirectory(AppContext.BaseDirectory);
            Directory.Delete(folder, recursive: true);
        }
    }

    private static async Task MeasureAsync(Chromium chromium, string stack, string gates)
    {
        Console.WriteLine("102,400 A-scans of 1,000 samples, int16, in memory; milliseconds from the mouse event");
        Console.WriteLine("to the frame in which the map was painted; median, largest of the drag's answers");
        await DragAsync(chromium, stack, gates, "two gates, rectified: end of gate 1", "End of gate wall 1", 2, "x");
        await DragAsync(
            chromium,
            stack,
            gates,
            "two gates, rectified: level of gate 1",
            "Level of gate wall 1",
            2,
            "y"
        );
        string filtered = "filtered.toml";
        string text = await File.ReadAllTextAsync(gates);
        await File.WriteAllTextAsync(
            filtered,
            text.Replace(
                    "signal = \"rectified\"",
                    "band_low = \"3 MHz\"\nband_high = \"12 MHz\"\nsignal = \"envelope\"",
                    StringComparison.Ordinal
                )
                // So low that no echo over the gates' levels can be under it: with -40 dB the general engine has to look at every noise.
                .Replace("-40 dB", "-60 dB", StringComparison.Ordinal)
        );
        await DragAsync(
            chromium,
            stack,
            filtered,
            "two gates, band-pass and envelope: end of gate 1",
            "End of gate wall 1",
            2,
            "x"
        );
        string tracked = "tracked.toml";
        await File.WriteAllTextAsync(
            tracked,
            text.Replace("pick = \"flank\"", "pick = \"flank\"\ntrack = \"path\"", StringComparison.Ordinal)
        );
        await DragAsync(
            chromium,
            stack,
            tracked,
            "the same with the interface tracked: end of gate 1",
            "End of gate wall 1",
            1,
            "x"
        );
        await DragAsync(
            chromium,
            stack,
            null,
            "default (echo train): thickest wall",
            "Thickest wall that is looked for",
            -2,
            "x"
        );
    }

    private static async Task DragAsync(
        Chromium chromium,
        string stack,
        string? procedure,
        string title,
        string handle,
        double pixels,
        string axis
    )
    {
        using WorkbenchSession session = WorkbenchSession.Open(
            new WorkbenchOptions { StackPath = stack, ProcedurePath = procedure },
            CancellationToken.None
        );
        await using WorkbenchServer server = await WorkbenchServer.StartAsync(session, Console.Error.WriteLine);
        await using BrowserPage page = await chromium.OpenAsync(server.Url, 1366, 768);
        await page.WaitAsync("document.documentElement.dataset.ready", 120);
        await page.WaitAsync($"document.querySelector('[aria-label=\"{handle}\"]')");
        // One drag to warm up, one to measure.
        for (int round = 0; round < 2; round++)
        {
            await page.RunAsync("workbench.timings.length = 0");
            (double x, double y) = await page.PlaceAsync($"[aria-label=\"{handle}\"]");
            await page.MouseAsync("mouseMoved", x, y);
            await page.MouseAsync("mousePressed", x, y, true);
            for (int i = 1; i <= 40; i++)
            {
                await page.MouseAsync("mouseMoved", axis == "x" ? x + pixels * i : x, axis == "y" ? y - i : y, true);
                await Task.Delay(40);
            }
            await page.MouseAsync("mouseReleased", axis == "x" ? x + pixels * 40 : x, axis == "y" ? y - 40 : y);
            await page.WaitAsync("workbench.timings.some((t) => t.live && t.full)", 60);
            await page.WaitAsync("!workbench.timings.at(-1).live && workbench.timings.at(-1).full", 60);
        }
        JsonNode timings = (await page.RunAsync("workbench.timings.filter((t) => t.live)"))!;
        JsonNode? settled = await page.RunAsync("workbench.timings.filter((t) => !t.live).at(-1)");
        double[] full = Sorted(timings, "full");
        double[] preview = Sorted(timings, "preview");
        double[] measured = Sorted(timings, "server");
        Console.WriteLine(
            string.Create(
                CultureInfo.InvariantCulture,
                $"{title}\n    first picture {Median(preview):0}, {preview[^1]:0}; whole map {Median(full):0}, {full[^1]:0} ({full.Length} maps and {preview.Length} first pictures for 40 moves); measuring alone {Median(measured):0}; all layers afterwards {settled?["server"]?.GetValue<double>() ?? 0:0}"
            )
        );
    }

    private static double[] Sorted(JsonNode timings, string name) =>
        [.. timings.AsArray().Where(t => t![name] is not null).Select(t => t![name]!.GetValue<double>()).Order()];

    private static double Median(double[] sorted) => sorted[sorted.Length / 2];
}
