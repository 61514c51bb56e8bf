using System.Text.Json.Nodes;
using EchoToThickness.Grids;
using EchoToThickness.Measurement;
using EchoToThickness.Procedures;
using EchoToThickness.Reporting.Explain;
using Xunit;

namespace EchoToThickness.Browser.Tests;

/// <summary>The page in a real browser, used with real mouse and key events.</summary>
[Collection(RealBrowser.OnePageAtATime)]
public sealed class WorkbenchPageTests(RealBrowser browser)
{
    private const string EndOfGate = "[aria-label='End of gate wall 1']";

    [Fact]
    public async Task Open_ShowsTheMapWithoutComplaintsAndAsksNobodyElse()
    {
        await using OpenPage open = await browser.OpenAsync();
        await open.SettledAsync();
        open.HasNoComplaints();
        Assert.All(
            open.Page.Requests.Where(r => r != "about:blank"),
            request => Assert.StartsWith(open.Server.Url.ToString(), request, StringComparison.Ordinal)
        );
        // Colours of the wall, and hatching where nobody scanned: more than a handful of different dots.
        int colours = await open.Page.RunAsync<int>(
            "(() => { const c = document.getElementById('map'); const d = new Uint32Array(c.getContext('2d').getImageData(0, 0, c.width, c.height).data.buffer); return new Set(d).size; })()"
        );
        Assert.InRange(colours, 50, 5000);
        Assert.Contains(
            "not scanned",
            await open.Page.RunAsync<string>("document.getElementById('missing').textContent"),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public async Task Cell_ClickedAndMovedByKeys_ExplainsItselfAsTheCommandLineDoes()
    {
        await using OpenPage open = await browser.OpenAsync();
        (double x, double y) = await open.Page.PlaceAsync("#map");
        await open.Page.ClickAsync(x - 90, y + 10);
        int scan = await open.Page.RunAsync<int>("workbench.cell.scan");
        int beam = await open.Page.RunAsync<int>("workbench.cell.beam");
        Assert.NotEqual((RealBrowser.Scans / 2, RealBrowser.Beams / 2), (scan, beam));
        await open.Page.KeyAsync("ArrowRight");
        await open.Page.KeyAsync("ArrowUp", 8);
        (scan, beam) = (scan + 1, Math.Max(0, beam - 10));
        await open.Page.WaitAsync(
            $"workbench.explained.explained.scan === {scan} && workbench.explained.explained.beam === {beam}"
        );
        MeasurementPlan plan = MeasurementPlan.Compile(
            ProcedureText.Parse(RealBrowser.Gates, "test"),
            open.Session.Source.Info
        );
        var trace = new MeasurementTrace();
        trace.Result = MeasurementEngine.Explain(open.Session.Source, plan, scan, beam, trace);
        Assert.Equal(
            ExplainPage.Of(trace, plan, CellBudget.Of(plan, trace.Result)),
            await open.Page.RunAsync<string>("document.querySelector('#page-cell pre').textContent")
        );
        Assert.Contains(
            $"Scan {scan}, beam {beam}",
            await open.Page.RunAsync<string>("document.getElementById('cell-words').textContent"),
            StringComparison.Ordinal
        );
        Assert.Contains(
            $"--scan {scan} --beam {beam}",
            await open.Page.RunAsync<string>("document.getElementById('command').textContent"),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public async Task Gate_EdgeDragged_ChangesRuleAndMap_UndoneRedoneAndSaved()
    {
        await using OpenPage open = await browser.OpenAsync();
        await open.SettledAsync();
        float[] before = await WallsAsync(open);
        await open.DragAsync(EndOfGate, -150, 0);
        await open.Page.WaitAsync("workbench.document.undo");
        await open.SettledAsync();
        string width = await open.ValueAsync("gate[1].width");
        Assert.Matches(@"^\d(\.\d{1,3})? us$", width);
        Assert.NotEqual("3.5 us", width);
        string text = TomlEditor.Set<Procedure>(RealBrowser.Gates, "gate[1].width", width);
        Assert.Equal(Expected(open, text), await WallsAsync(open));
        Assert.NotEqual(before, await WallsAsync(open));

        await open.Page.KeyAsync("z", 2);
        await open.Page.WaitAsync("workbench.values['gate[1].width'] === '3.5 us'");
        await open.SettledAsync();
        Assert.Equal(before, await WallsAsync(open));
        await open.Page.KeyAsync("y", 2);
        await open.Page.WaitAsync($"workbench.values['gate[1].width'] === '{width}'");

        await open.Page.KeyAsync("s", 2);
        await open.Page.WaitAsync("document.getElementById('save-dialog').open");
        await open.Page.ClickAsync("#save-go");
        await open.Page.WaitAsync("workbench.document.saved && !document.getElementById('save-dialog').open");
        Assert.Equal(text, await File.ReadAllTextAsync(open.Procedure));
        open.HasNoComplaints();
    }

    [Fact]
    public async Task Handles_ByKeys_TurnEdgeLevelAndWholeGate()
    {
        await using OpenPage open = await browser.OpenAsync();
        foreach (
            (string handle, string key, string rule, string expected) in ((string, string, string, string)[])
                [
                    (EndOfGate, "ArrowLeft", "gate[1].width", "3.49 us"),
                    ("[aria-label='Gate wall 1']", "ArrowRight", "gate[1].start", "0.71 us"),
                    ("[aria-label='Level of gate wall 1']", "ArrowUp", "gate[1].level", "3.15 % of full scale"),
                    ("[aria-label='Level of the interface']", "ArrowDown", "interface.level", "28.6 % of full scale"),
                    (
                        "[aria-label='Start of the search for the interface']",
                        "ArrowRight",
                        "interface.search_start",
                        "2.22 us"
                    ),
                ]
        )
        {
            await open.Page.RunAsync($"document.querySelector(\"{handle}\")?.focus()");
            if (!await open.Page.RunAsync<bool>($"document.activeElement.matches(\"{handle}\")"))
            {
                // The start of the search lies left of the first picture: a double click shows the whole record.
                await open.Page.RunAsync(
                    "document.querySelector('#chart .u-over').dispatchEvent(new MouseEvent('dblclick', { bubbles: true }))"
                );
                await open.Page.WaitAsync($"document.querySelector(\"{handle}\")");
                await open.Page.RunAsync($"document.querySelector(\"{handle}\").focus()");
            }
            await open.Page.KeyAsync(key);
            await open.Page.WaitAsync($"workbench.values['{rule}'] === '{expected}'");
            // The handle keeps the focus, so that the next key turns it further.
            await open.Page.WaitAsync($"document.activeElement.matches(\"{handle}\")");
        }
        open.HasNoComplaints();
    }

    [Fact]
    public async Task Drag_FasterThanTheMap_EndsWithTheMapOfTheLastRule()
    {
        await using OpenPage open = await browser.OpenAsync(null);
        await open.SettledAsync();
        await open.Page.RunAsync(
            """
            import('./measure.js').then(async (m) => {
              for (let i = 0; i < 30; i++) {
                m.turn([{ kind: 'set', key: 'wall.maximum', value: (15 - i * 0.3).toFixed(1) + ' mm' }], i === 29 ? 'walked' : null);
                await new Promise((r) => setTimeout(r, 7));
              }
            })
            """
        );
        await open.Page.WaitAsync(
            "workbench.values['wall.maximum'] === '6.3 mm' && workbench.document.undo === 'walked'"
        );
        await open.SettledAsync();
        Assert.Equal(Expected(open, "[wall]\nmaximum = \"6.3 mm\"\n"), await WallsAsync(open));
        open.HasNoComplaints();
    }

    [Fact]
    public async Task Form_WrongValue_IsToldAtTheFieldAndCanBeGivenUp()
    {
        await using OpenPage open = await browser.OpenAsync();
        await open.Page.ClickAsync("#tab-rules");
        await open.Page.WaitAsync("document.querySelector('#rule-gate-1--width')");
        await open.Page.RunAsync("document.querySelector('#rule-gate-1--width').select()");
        await open.Page.RunAsync("document.querySelector('#rule-gate-1--width').focus()");
        await open.Page.TypeAsync("three");
        await open.Page.KeyAsync("Enter");
        await open.Page.WaitAsync("!document.getElementById('faults').hidden");
        string told = await open.Page.RunAsync<string>("document.getElementById('faults').textContent");
        Assert.Contains("gate[1].width", told, StringComparison.Ordinal);
        Assert.Contains("To fix:", told, StringComparison.Ordinal);
        await open.Page.WaitAsync(
            "document.querySelector('#rule-gate-1--width').getAttribute('aria-invalid') === 'true'"
        );
        await open.Page.ClickAsync("#faults button");
        await open.Page.WaitAsync("document.getElementById('faults').hidden");
        Assert.Equal("3.5 us", await open.ValueAsync("gate[1].width"));
        Assert.True(await open.Page.RunAsync<bool>("workbench.document.saved"));
    }

    [Fact]
    public async Task Form_GateAddedAndRemoved_GivesTheTextBack()
    {
        await using OpenPage open = await browser.OpenAsync();
        await open.Page.ClickAsync("#tab-rules");
        await open.Page.RunAsync(
            "[...document.querySelectorAll('#page-rules button')].find((b) => b.textContent === 'Add a gate').click()"
        );
        await open.Page.WaitAsync("workbench.values['gate[3].name'] === 'wall 3'");
        await open.Page.RunAsync(
            "[...document.querySelectorAll('#page-rules button')].filter((b) => b.textContent === 'Remove this gate').at(-1).click()"
        );
        await open.Page.WaitAsync("!('gate[3].name' in workbench.values) && !('gate[3].start' in workbench.values)");
        Assert.Equal(RealBrowser.Gates, await open.Page.RunAsync<string>("workbench.document.text"));
    }

    [Fact]
    public async Task Doubtful_ByKeys_WalksThroughTheList()
    {
        await using OpenPage open = await browser.OpenAsync();
        await open.Page.WaitAsync("workbench.doubtful.count > 1");
        JsonNode cells = (await open.Page.RunAsync("workbench.doubtful.cells.slice(0, 2)"))!;
        foreach (int index in (int[])[0, 1, 0])
        {
            await open.Page.KeyAsync(
                index == 0 && await open.Page.RunAsync<bool>("workbench.walked ?? false") ? "p" : "n"
            );
            await open.Page.RunAsync("workbench.walked = true");
            Assert.Equal(cells[index]!["scan"]!.GetValue<int>(), await open.Page.RunAsync<int>("workbench.cell.scan"));
            Assert.Equal(cells[index]!["beam"]!.GetValue<int>(), await open.Page.RunAsync<int>("workbench.cell.beam"));
        }
    }

    [Fact]
    public async Task Compare_WithTheDefaults_SwipesAndCountsEveryCell()
    {
        await using OpenPage open = await browser.OpenAsync();
        await open.SettledAsync();
        await open.Page.ClickAsync("#tab-compare");
        await open.Page.RunAsync(
            "[...document.querySelectorAll('#page-compare button')].find((b) => b.textContent === 'The defaults').click()"
        );
        await open.Page.WaitAsync("document.querySelector('#change-table')");
        int sum = await open.Page.RunAsync<int>(
            "[...document.querySelectorAll('#change-table td')].reduce((n, td) => n + Number(td.textContent.replace(/\\D/g, '')), 0)"
        );
        Assert.Equal(RealBrowser.Scans * RealBrowser.Beams, sum);
        await open.Page.RunAsync(
            "[...document.querySelectorAll('#page-compare button')].find((b) => b.textContent === 'Swipe').click()"
        );
        await open.Page.WaitAsync("!document.getElementById('swipe').hidden");
        await open.DragAsync("#swipe", 60, 0);
        await open.Page.WaitAsync("workbench.swipe > 0.55");
        await open.Page.RunAsync(
            "[...document.querySelectorAll('#page-compare button')].find((b) => b.textContent === 'Change').click()"
        );
        await open.Page.WaitAsync("workbench.shown === 'change'");
        open.HasNoComplaints();
    }

    [Fact]
    public async Task Views_OpenedOnDemand_AreDrawnAndFollowTheCell()
    {
        await using OpenPage open = await browser.OpenAsync();
        await open.SettledAsync();
        foreach (string view in (string[])["scan", "beam", "profiles", "histogram", "error"])
        {
            await open.Page.ClickAsync("#view-" + view);
            await open.Page.WaitAsync(
                $"[...document.querySelectorAll('.view.{view} canvas')].some((c) => c.width > 0 && new Set(new Uint32Array(c.getContext('2d').getImageData(0, 0, c.width, c.height).data.buffer)).size > 3)"
            );
        }
        await open.Page.KeyAsync("ArrowRight", 8);
        await open.Page.WaitAsync("document.querySelector('.view.histogram p').textContent.includes('This cell')");
        Assert.Matches(
            "cells with wall and truth",
            await open.Page.RunAsync<string>("document.querySelector('.view.error').textContent")
        );
        open.HasNoComplaints();
    }

    private static Task<float[]> WallsAsync(OpenPage open) => ReadAsync(open, "workbench.layers.thickness");

    private static async Task<float[]> ReadAsync(OpenPage open, string array)
    {
        string text = await open.Page.RunAsync<string>(
            $"(() => {{ const b = new Uint8Array({array}.slice().buffer); let s = ''; for (let i = 0; i < b.length; i += 4096) s += String.fromCharCode(...b.subarray(i, i + 4096)); return btoa(s); }})()"
        );
        byte[] bytes = Convert.FromBase64String(text);
        var values = new float[bytes.Length / 4];
        Buffer.BlockCopy(bytes, 0, values, 0, bytes.Length);
        return values;
    }

    /// <summary>The map by the engine alone.</summary>
    private static float[] Expected(OpenPage open, string text)
    {
        MeasurementPlan plan = MeasurementPlan.Compile(ProcedureText.Parse(text, "test"), open.Session.Source.Info);
        var sink = new WallSink();
        MeasurementEngine.Run(
            open.Session.Source,
            plan,
            plan.CreateHeader(""),
            sink,
            new MeasurementOptions { Threads = 1 }
        );
        return sink.Walls;
    }

    private sealed class WallSink : IGridSink
    {
        public float[] Walls { get; } = new float[RealBrowser.Scans * RealBrowser.Beams];

        public void Begin(GridHeader header) { }

        public void Write(GridTile tile) =>
            tile[GridLayer.Thickness].AsSpan(0, tile.Count).CopyTo(Walls.AsSpan(tile.FirstScan * RealBrowser.Beams));

        public void Complete(GridSummary summary) { }
    }
}
