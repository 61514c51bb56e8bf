using EchoToThickness.Browser.Tests.Driver;
using EchoToThickness.Simulation;
using EchoToThickness.Workbench;
using EchoToThickness.Workbench.Sessions;
using Xunit;

[assembly: AssemblyFixture(typeof(EchoToThickness.Browser.Tests.RealBrowser))]

namespace EchoToThickness.Browser.Tests;

/// <summary>One Chromium for all tests, and one small invented stack; where no Chromium is found the tests say so and are skipped.</summary>
public sealed class RealBrowser : IAsyncLifetime
{
    /// <summary>Name of the collection of all page tests: a browser draws no frames of a page that is not in front.</summary>
    public const string OnePageAtATime = "one page at a time";

    public const int Scans = 96;
    public const int Beams = 64;

    public const string Gates = """
        # Two gates; these comments must live.
        [procedure]
        name = "two gates"

        [conditioning]
        signal = "rectified"

        [interface]
        search_start = "2.2 us"
        level = "30 % of full scale"
        pick = "peak"

        [[gate]]
        name = "wall 1"
        start = "0.7 us"   # the near dead zone
        width = "3.5 us"
        level = "3 % of full scale"

        [[gate]]
        name = "wall 2"
        follows = "wall 1"
        start = "0.7 us"
        width = "3 us"
        level = "2 % of full scale"

        [pairing]
        rule = "difference"
        to = "wall 1"

        """;

    private Chromium? _browser;

    public string Folder { get; } = Directory.CreateTempSubdirectory("ett-browser-tests").FullName;

    private string Stack => Path.Combine(Folder, "scan.h5");

    public async ValueTask InitializeAsync()
    {
        if (Chromium.Find() is not { } path)
            return;
        _browser = await Chromium.StartAsync(path);
        using var source = new EchoTrainSource(
            new EchoTrainScene
            {
                Name = "scan",
                Scans = Scans,
                Beams = Beams,
                Samples = 900,
                Seed = 9,
                Wall = new WallMap
                {
                    NominalMetres = 8e-3,
                    Pits = [new Pit(0.03, 0.03, 0.01, 3e-3), new Pit(0.07, 0.02, 0.006, 1.5e-3)],
                },
                Couplant = new CouplantPath(3.2e-3, 0.1e-3, 0.05),
                CouplantMultipleDecibels = -25,
                DropOutFraction = 0.01,
                NotScanned = [new PlanRectangle(0.05, 0.053, 0.03, 0.064)],
            }
        );
        EchoTrainStack.Write(source, Stack);
    }

    public async ValueTask DisposeAsync()
    {
        if (_browser is not null)
            await _browser.DisposeAsync();
        Directory.Delete(Folder, recursive: true);
    }

    /// <summary>Opens a file in a page of its own; skips the test where there is no browser.</summary>
    internal async Task<BrowserPage> OpenFileAsync(string path, int width = 1366, int height = 768)
    {
        if (_browser is null)
            Assert.Skip(
                "No Chromium on this machine: install one (apt-get install chromium), or name it with ETT_CHROMIUM."
            );
        return await _browser.OpenAsync(new Uri(path), width, height);
    }

    /// <summary>Opens a workbench of its own in a page of its own; skips the test where there is no browser.</summary>
    internal async Task<OpenPage> OpenAsync(
        string? text = Gates,
        int width = 1366,
        int height = 768,
        bool dark = false,
        double dots = 1
    )
    {
        if (_browser is null)
            Assert.Skip(
                "No Chromium on this machine: install one (apt-get install chromium), or name it with ETT_CHROMIUM."
            );
        string folder = Directory.CreateDirectory(Path.Combine(Folder, Guid.NewGuid().ToString("n"))).FullName;
        string procedure = Path.Combine(folder, "rules.toml");
        await File.WriteAllTextAsync(procedure, text ?? "");
        WorkbenchSession session = WorkbenchSession.Open(
            new WorkbenchOptions { StackPath = Stack, ProcedurePath = procedure },
            CancellationToken.None
        );
        WorkbenchServer server = await WorkbenchServer.StartAsync(session);
        BrowserPage page = await _browser.OpenAsync(server.Url, width, height, dark, dots);
        await page.WaitAsync("document.documentElement.dataset.ready && workbench.explained && workbench.truth", 60);
        return new OpenPage(page, server, session, procedure);
    }
}
