using System.Text.Json.Nodes;
using Xunit;

namespace EchoToThickness.Browser.Tests;

/// <summary>Readable, nameable, reachable: contrast by the formula of WCAG 2.1 (1.4.3), names, keyboard, sizes.</summary>
[Collection(RealBrowser.OnePageAtATime)]
public sealed class AccessTests(RealBrowser browser)
{
    private const string Contrast = """
        (() => {
          const parse = (text) => (/rgba?\(([^)]+)\)/.exec(text)?.[1] ?? '0 0 0 0').split(/[ ,\/]+/).map(Number);
          const light = ([r, g, b]) => [r, g, b].map((v) => (v /= 255, v <= 0.03928 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4)).reduce((s, v, i) => s + v * [0.2126, 0.7152, 0.0722][i], 0);
          const paper = (e) => { for (; e; e = e.parentElement) { const c = parse(getComputedStyle(e).backgroundColor); if ((c[3] ?? 1) > 0.9) return c; } return [255, 255, 255]; };
          const bad = [];
          for (const e of document.querySelectorAll('body *')) {
            if (!e.checkVisibility() || e.closest('[disabled], canvas, dialog:not([open])') || ![...e.childNodes].some((n) => n.nodeType === 3 && n.textContent.trim())) continue;
            const a = light(parse(getComputedStyle(e).color)), b = light(paper(e));
            const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
            if (ratio < 4.5) bad.push(`${e.tagName}.${e.className} "${e.textContent.trim().slice(0, 30)}" ${ratio.toFixed(2)}`);
          }
          return bad;
        })()
        """;

    [Theory]
    [InlineData(1366, 768, false)]
    [InlineData(1366, 768, true)]
    [InlineData(3840, 2160, false)]
    [InlineData(3840, 2160, true)]
    public async Task Page_EverySizeAndTheme_IsReadableAndWhole(int width, int height, bool dark)
    {
        await using OpenPage open = await browser.OpenAsync(width: width, height: height, dark: dark);
        foreach (string tab in (string[])["#tab-cell", "#tab-rules", "#tab-doubt", "#tab-compare"])
        {
            await open.Page.ClickAsync(tab);
            // Colours of buttons change over a tenth of a second.
            await Task.Delay(200);
            Assert.Equal("[]", (await open.Page.RunAsync(Contrast))!.ToJsonString());
        }
        Assert.Equal(0, await open.Page.RunAsync<int>("document.documentElement.scrollWidth - innerWidth"));
        // Map and strip are in view without scrolling, and the map takes a fair part of it.
        foreach (string part in (string[])["#map", "#story", "#chart-box", "#view-buttons"])
            Assert.InRange(
                await open.Page.RunAsync<double>($"document.querySelector('{part}').getBoundingClientRect().bottom"),
                50,
                height
            );
        Assert.True(
            await open.Page.RunAsync<double>("document.querySelector('#map').clientHeight / innerHeight") > 0.4
        );
        // Text no smaller than 11 px on the small screen, and growing with the large one.
        double smallest = await open.Page.RunAsync<double>(
            "Math.min(...[...document.querySelectorAll('p, td, th, label, button, h3, li')].filter((e) => e.checkVisibility()).map((e) => parseFloat(getComputedStyle(e).fontSize)))"
        );
        Assert.True(smallest >= (width > 3000 ? 20 : 11), $"smallest text {smallest} px");
        Assert.Empty(open.Page.Complaints);
    }

    [Fact]
    public async Task Controls_AllHaveNames()
    {
        await using OpenPage open = await browser.OpenAsync();
        await open.Page.ClickAsync("#tab-rules");
        JsonNode nameless = (
            await open.Page.RunAsync(
                """
                [...document.querySelectorAll('button, input, select, textarea, [role=slider], [role=tab]')]
                  .filter((e) => !(e.getAttribute('aria-label') || e.textContent.trim() || e.labels?.length || e.title))
                  .map((e) => e.outerHTML.slice(0, 120))
                """
            )
        )!;
        Assert.Equal("[]", nameless.ToJsonString());
        Assert.True(
            await open.Page.RunAsync<int>("document.querySelectorAll('[role=slider][aria-valuetext]').length") > 6
        );
    }

    [Fact]
    public async Task Keyboard_Tab_ReachesMapNotebookAndHandles()
    {
        await using OpenPage open = await browser.OpenAsync();
        await open.Page.RunAsync("document.activeElement.blur()");
        var reached = new HashSet<string>();
        for (int i = 0; i < 60; i++)
        {
            await open.Page.KeyAsync("Tab");
            reached.Add(
                await open.Page.RunAsync<string>(
                    "document.activeElement.id || document.activeElement.getAttribute('aria-label') || ''"
                )
            );
        }
        foreach (
            string wanted in (string[])
                [
                    "save",
                    "layer",
                    "map",
                    "tab-cell",
                    "story",
                    "End of gate wall 1",
                    "Level of the interface",
                    "view-histogram",
                    "copy",
                ]
        )
            Assert.Contains(wanted, reached);
    }

    [Fact]
    public async Task Policy_ScriptPutIntoThePage_IsNotRun()
    {
        await using OpenPage open = await browser.OpenAsync();
        await open.Page.RunAsync(
            "(() => { const s = document.createElement('script'); s.textContent = 'globalThis.planted = 1'; document.body.append(s); const i = document.createElement('img'); i.setAttribute('onerror', 'globalThis.planted = 2'); i.src = 'nothing.png'; document.body.append(i); })()"
        );
        await Task.Delay(200);
        Assert.False(await open.Page.RunAsync<bool>("'planted' in globalThis"));
        Assert.True(await open.Page.RunAsync<bool>("fetch('https://example.invalid/').then(() => false, () => true)"));
        await open.Page.WaitAsync("true");
        Assert.Contains(open.Page.Complaints, c => c.Contains("Content Security Policy", StringComparison.Ordinal));
    }
}
