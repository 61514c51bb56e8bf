using System.Collections.Concurrent;
using System.Diagnostics;
using System.Net.WebSockets;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace EchoToThickness.Browser.Tests.Driver;

/// <summary>One page of a browser: scripts, real mouse and key events, screenshots, and whatever the page complained of.</summary>
internal sealed class BrowserPage : IAsyncDisposable
{
    private readonly ClientWebSocket _socket = new();
    private readonly ConcurrentDictionary<int, TaskCompletionSource<JsonNode>> _answers = new();
    private readonly SemaphoreSlim _sending = new(1, 1);
    private readonly CancellationTokenSource _end = new();
    private Task _reading = Task.CompletedTask;
    private int _last;

    private BrowserPage() { }

    /// <summary>Errors of scripts, refusals by the content security policy, failed requests.</summary>
    public ConcurrentQueue<string> Complaints { get; } = new();

    /// <summary>Every address the page asked for.</summary>
    public ConcurrentQueue<string> Requests { get; } = new();

    public static async Task<BrowserPage> ConnectAsync(Uri socket)
    {
        var page = new BrowserPage();
        page._socket.Options.KeepAliveInterval = TimeSpan.Zero;
        await page._socket.ConnectAsync(socket, CancellationToken.None).ConfigureAwait(false);
        page._reading = Task.Run(page.ReadAsync);
        foreach (string domain in (string[])["Page", "Runtime", "Log", "Network"])
            await page.SendAsync(domain + ".enable").ConfigureAwait(false);
        return page;
    }

    public async Task PrepareAsync(int width, int height, bool dark, double dots)
    {
        await SendAsync("Page.bringToFront").ConfigureAwait(false);
        await SendAsync("Emulation.setFocusEmulationEnabled", new JsonObject { ["enabled"] = true })
            .ConfigureAwait(false);
        await SendAsync(
                "Emulation.setDeviceMetricsOverride",
                new JsonObject
                {
                    ["width"] = width,
                    ["height"] = height,
                    ["deviceScaleFactor"] = dots,
                    ["mobile"] = false,
                }
            )
            .ConfigureAwait(false);
        await SendAsync(
                "Emulation.setEmulatedMedia",
                new JsonObject
                {
                    ["features"] = new JsonArray(
                        new JsonObject { ["name"] = "prefers-color-scheme", ["value"] = dark ? "dark" : "light" }
                    ),
                }
            )
            .ConfigureAwait(false);
    }

    public Task GoAsync(Uri url) => SendAsync("Page.navigate", new JsonObject { ["url"] = url.ToString() });

    /// <summary>Runs an expression, awaits it, and gives its value as JSON.</summary>
    public async Task<JsonNode?> RunAsync(string expression)
    {
        JsonNode answer = await SendAsync(
                "Runtime.evaluate",
                new JsonObject
                {
                    ["expression"] = expression,
                    ["awaitPromise"] = true,
                    ["returnByValue"] = true,
                    ["userGesture"] = true,
                }
            )
            .ConfigureAwait(false);
        return answer["exceptionDetails"] is { } thrown
            ? throw new InvalidOperationException(
                $"{expression}: {thrown["exception"]?["description"] ?? thrown["text"]}"
            )
            : answer["result"]?["value"]?.DeepClone();
    }

    public async Task<T> RunAsync<T>(string expression) =>
        (await RunAsync(expression).ConfigureAwait(false))!.GetValue<T>();

    /// <summary>Waits until an expression is true.</summary>
    public async Task WaitAsync(string condition, double seconds = 30)
    {
        var waited = Stopwatch.StartNew();
        while (
            !await RunAsync<bool>($"(() => {{ try {{ return Boolean({condition}); }} catch {{ return false; }} }})()")
                .ConfigureAwait(false)
        )
        {
            if (waited.Elapsed.TotalSeconds > seconds)
                throw new TimeoutException(
                    $"Not true after {seconds} s: {condition}. The page complained: {string.Join(" | ", Complaints)}"
                );
            await Task.Delay(25).ConfigureAwait(false);
        }
    }

    /// <summary>Middle of an element, in pixels of the page.</summary>
    public async Task<(double X, double Y)> PlaceAsync(string selector)
    {
        JsonNode box = (
            await RunAsync(
                    $"(() => {{ const r = document.querySelector({JsonSerializer.Serialize(selector)}).getBoundingClientRect(); return {{ x: r.x + r.width / 2, y: r.y + r.height / 2 }}; }})()"
                )
                .ConfigureAwait(false)
        )!;
        return (box["x"]!.GetValue<double>(), box["y"]!.GetValue<double>());
    }

    public Task MouseAsync(string type, double x, double y, bool pressed = false, double wheel = 0) =>
        SendAsync(
            "Input.dispatchMouseEvent",
            new JsonObject
            {
                ["type"] = type,
                ["x"] = x,
                ["y"] = y,
                ["button"] = pressed || type != "mouseMoved" ? "left" : "none",
                ["buttons"] = pressed ? 1 : 0,
                ["clickCount"] = type is "mousePressed" or "mouseReleased" ? 1 : 0,
                ["deltaX"] = 0,
                ["deltaY"] = wheel,
            }
        );

    public async Task ClickAsync(double x, double y)
    {
        await MouseAsync("mouseMoved", x, y).ConfigureAwait(false);
        await MouseAsync("mousePressed", x, y, true).ConfigureAwait(false);
        await MouseAsync("mouseReleased", x, y).ConfigureAwait(false);
    }

    public async Task ClickAsync(string selector)
    {
        await RunAsync(
                $"document.querySelector({JsonSerializer.Serialize(selector)}).scrollIntoView({{ block: 'nearest' }})"
            )
            .ConfigureAwait(false);
        (double x, double y) = await PlaceAsync(selector).ConfigureAwait(false);
        await ClickAsync(x, y).ConfigureAwait(false);
    }

    /// <summary>Presses a key: its name as the event tells it; modifiers 1 Alt, 2 Ctrl, 8 Shift.</summary>
    public async Task KeyAsync(string key, int modifiers = 0)
    {
        string code = key.Length == 1 && char.IsAsciiLetter(key[0]) ? "Key" + char.ToUpperInvariant(key[0]) : key;
        int number = key switch
        {
            "ArrowLeft" => 37,
            "ArrowUp" => 38,
            "ArrowRight" => 39,
            "ArrowDown" => 40,
            "Tab" => 9,
            "Enter" => 13,
            "Escape" => 27,
            _ => char.ToUpperInvariant(key[0]),
        };
        foreach (string type in (string[])["keyDown", "keyUp"])
        {
            var message = new JsonObject
            {
                ["type"] = type,
                ["key"] = key,
                ["code"] = code,
                ["modifiers"] = modifiers,
                ["windowsVirtualKeyCode"] = number,
            };
            if (type == "keyDown" && modifiers < 2 && (key.Length == 1 || key == "Enter"))
                message["text"] = key == "Enter" ? "\r" : key;
            await SendAsync("Input.dispatchKeyEvent", message).ConfigureAwait(false);
        }
    }

    public Task TypeAsync(string text) => SendAsync("Input.insertText", new JsonObject { ["text"] = text });

    public async Task ScreenshotAsync(string path)
    {
        JsonNode answer = await SendAsync("Page.captureScreenshot", new JsonObject { ["format"] = "png" })
            .ConfigureAwait(false);
        await File.WriteAllBytesAsync(path, Convert.FromBase64String(answer["data"]!.GetValue<string>()))
            .ConfigureAwait(false);
    }

    public async Task<JsonNode> SendAsync(string method, JsonObject? parameters = null)
    {
        int id = Interlocked.Increment(ref _last);
        var answer = new TaskCompletionSource<JsonNode>(TaskCreationOptions.RunContinuationsAsynchronously);
        _answers[id] = answer;
        byte[] message = JsonSerializer.SerializeToUtf8Bytes(
            new JsonObject
            {
                ["id"] = id,
                ["method"] = method,
                ["params"] = parameters ?? [],
            }
        );
        await _sending.WaitAsync().ConfigureAwait(false);
        try
        {
            await _socket
                .SendAsync(message, WebSocketMessageType.Text, true, CancellationToken.None)
                .ConfigureAwait(false);
        }
        finally
        {
            _sending.Release();
        }
        return await answer.Task.WaitAsync(TimeSpan.FromSeconds(60)).ConfigureAwait(false);
    }

    public async ValueTask DisposeAsync()
    {
        await _end.CancelAsync().ConfigureAwait(false);
        await _reading.ConfigureAwait(false);
        _socket.Dispose();
        _sending.Dispose();
        _end.Dispose();
    }

    private async Task ReadAsync()
    {
        var buffer = new byte[1 << 16];
        using var message = new MemoryStream();
        try
        {
            while (true)
            {
                WebSocketReceiveResult part = await _socket.ReceiveAsync(buffer, _end.Token).ConfigureAwait(false);
                if (part.MessageType == WebSocketMessageType.Close)
                    return;
                message.Write(buffer, 0, part.Count);
                if (!part.EndOfMessage)
                    continue;
                Take(JsonNode.Parse(message.GetBuffer().AsSpan(0, (int)message.Length))!);
                message.SetLength(0);
            }
        }
        catch (Exception e) when (e is OperationCanceledException or WebSocketException)
        {
            return;
        }
        finally
        {
            foreach (TaskCompletionSource<JsonNode> waiting in _answers.Values)
                waiting.TrySetException(new InvalidOperationException("The browser has gone."));
        }
    }

    private void Take(JsonNode message)
    {
        if (message["id"] is { } id)
        {
            if (!_answers.TryRemove(id.GetValue<int>(), out TaskCompletionSource<JsonNode>? waiting))
                return;
            if (message["error"] is { } error)
                waiting.SetException(new InvalidOperationException(error.ToJsonString()));
            else
                waiting.SetResult(message["result"]!);
            return;
        }
        JsonNode? told = message["params"];
        switch (message["method"]?.GetValue<string>())
        {
            case "Runtime.exceptionThrown":
                JsonNode? thrown = told?["exceptionDetails"];
                Complaints.Enqueue((thrown?["exception"]?["description"] ?? thrown?["text"])?.ToString() ?? "");
                break;
            case "Log.entryAdded":
                JsonNode? entry = told?["entry"];
                if (entry?["level"]?.ToString() == "error")
                    Complaints.Enqueue(entry["text"]?.ToString() + " " + entry["url"]?.ToString());
                break;
            case "Network.requestWillBeSent":
                Requests.Enqueue(told?["request"]?["url"]?.ToString() ?? "");
                break;
        }
    }
}
