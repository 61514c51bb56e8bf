using System.Diagnostics;
using System.Globalization;
using System.Text.Json;

namespace EchoToThickness.Browser.Tests.Driver;

/// <summary>
/// A headless Chromium that was found on this machine, driven through its DevTools socket. Microsoft.Playwright would do the same for 786 MB in the package
/// cache and 136 MB in every output folder, most of it a Node runtime that nothing else here needs; the part of it that these tests use is this folder.
/// </summary>
internal sealed class Chromium : IAsyncDisposable
{
    private static readonly string[] Names = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable"];
    private readonly Process _process;
    private readonly string _profile;

    private Chromium(Process process, string profile, int port)
    {
        _process = process;
        _profile = profile;
        Port = port;
    }

    private int Port { get; }

    /// <summary>The browser named by ETT_CHROMIUM, else the first known name on the path; null when there is none.</summary>
    public static string? Find()
    {
        if (Environment.GetEnvironmentVariable("ETT_CHROMIUM") is { Length: > 0 } named)
            return File.Exists(named) ? named : null;
        string[] folders = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator);
        return Names
            .SelectMany(name => folders.Select(folder => Path.Combine(folder, name)))
            .FirstOrDefault(File.Exists);
    }

    public static async Task<Chromium> StartAsync(string path)
    {
        string profile = Directory.CreateTempSubdirectory("ett-browser").FullName;
        var start = new ProcessStartInfo(path)
        {
            RedirectStandardError = true,
            RedirectStandardOutput = true,
            UseShellExecute = false,
        };
        string[] arguments =
        [
            "--headless=new",
            "--no-sandbox",
            "--disable-gpu",
            "--no-first-run",
            "--disable-extensions",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
            "--hide-scrollbars",
            "--remote-debugging-port=0",
            "--user-data-dir=" + profile,
            "about:blank",
        ];
        foreach (string argument in arguments)
            start.ArgumentList.Add(argument);
        Process process = Process.Start(start)!;
        process.OutputDataReceived += (_, _) => { };
        process.ErrorDataReceived += (_, _) => { };
        process.BeginOutputReadLine();
        process.BeginErrorReadLine();
        string portFile = Path.Combine(profile, "DevToolsActivePort");
        var waited = Stopwatch.StartNew();
        string[] lines = [];
        while (lines.Length < 2)
        {
            if (process.HasExited || waited.Elapsed > TimeSpan.FromSeconds(60))
                throw new InvalidOperationException(
                    $"{path} did not start (exit code {(process.HasExited ? process.ExitCode : -1)})."
                );
            await Task.Delay(50).ConfigureAwait(false);
            if (File.Exists(portFile))
                lines = await File.ReadAllLinesAsync(portFile).ConfigureAwait(false);
        }
        return new Chromium(process, profile, int.Parse(lines[0], CultureInfo.InvariantCulture));
    }

    /// <summary>Opens a page of its own size, colours and dots a pixel.</summary>
    public async Task<BrowserPage> OpenAsync(Uri url, int width, int height, bool dark = false, double dots = 1)
    {
        using var http = new HttpClient();
        using HttpResponseMessage made = await http.PutAsync(
                new Uri($"http://127.0.0.1:{Port}/json/new?about:blank"),
                null
            )
            .ConfigureAwait(false);
        using JsonDocument target = JsonDocument.Parse(await made.Content.ReadAsStringAsync().ConfigureAwait(false));
        string socket = target.RootElement.GetProperty("webSocketDebuggerUrl").GetString()!;
        BrowserPage page = await BrowserPage.ConnectAsync(new Uri(socket)).ConfigureAwait(false);
        await page.PrepareAsync(width, height, dark, dots).ConfigureAwait(false);
        await page.GoAsync(url).ConfigureAwait(false);
        return page;
    }

    public async ValueTask DisposeAsync()
    {
        if (!_process.HasExited)
            _process.Kill(entireProcessTree: true);
        await _process.WaitForExitAsync().ConfigureAwait(false);
        _process.Dispose();
        for (int attempt = 0; ; attempt++)
        {
            try
            {
                Directory.Delete(_profile, recursive: true);
                return;
            }
            catch (IOException) when (attempt < 20)
            {
                // Children of the browser may still be closing their files.
                await Task.Delay(100).ConfigureAwait(false);
            }
        }
    }
}
