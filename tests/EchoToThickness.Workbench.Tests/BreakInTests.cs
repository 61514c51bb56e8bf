using System.Net;
using System.Net.NetworkInformation;
using System.Net.Sockets;
using System.Text;
using EchoToThickness.Workbench.Serving;
using Xunit;

namespace EchoToThickness.Workbench.Tests;

/// <summary>Attempts to get in, or to get out of the opened folder. Practice: the usual attacks on servers that run beside a browser.</summary>
public sealed class BreakInTests : IAsyncLifetime
{
    private OpenWorkbench _open = null!;

    public async ValueTask InitializeAsync() => _open = await OpenWorkbench.StartAsync();

    public ValueTask DisposeAsync() => _open.DisposeAsync();

    private string Token => _open.Server.Url.AbsolutePath.Trim('/');

    [Fact]
    public async Task Token_WrongOrMissing_FindsNothing()
    {
        using var http = new HttpClient { BaseAddress = new Uri(_open.Origin) };
        foreach (
            string path in (string[])
                [
                    "/",
                    "/session",
                    $"/{Token[..^1]}/session",
                    $"/{Token}x/session",
                    $"/{Token.ToUpperInvariant()}/session",
                    $"/{Token}",
                ]
        )
        {
            using HttpResponseMessage answer = await http.GetAsync(path);
            Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
            Assert.Equal("", await answer.Content.ReadAsStringAsync());
        }
    }

    [Fact]
    public void Token_HasTwoHundredFiftySixBitsAndIsNewEachTime()
    {
        string[] tokens = [.. Enumerable.Range(0, 100).Select(_ => RequestGuard.NewToken())];
        Assert.Equal(100, tokens.Distinct().Count());
        // 256 bits in letters of 6 bits are 43.
        Assert.All(tokens, token => Assert.Matches("^[A-Za-z0-9_-]{43}$", token));
    }

    [Theory]
    [InlineData("evil.example")]
    [InlineData("evil.example:{port}")]
    [InlineData("127.0.0.1")]
    [InlineData("127.0.0.1:1")]
    [InlineData("127.0.0.1.evil.example:{port}")]
    [InlineData("localhost:{port}.evil.example")]
    public async Task Host_Foreign_IsRefused(string host)
    {
        string named = host.Replace("{port}", $"{_open.Server.Port}", StringComparison.Ordinal);
        string answer = await _open.RawAsync(
            $"GET /{Token}/session HTTP/1.1\r\nHost: {named}\r\nConnection: close\r\n\r\n"
        );
        Assert.Matches("^HTTP/1.1 (421|400) ", answer);
        Assert.DoesNotContain("scan.h5", answer, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("http://evil.example")]
    [InlineData("null")]
    [InlineData("http://127.0.0.1")]
    [InlineData("http://127.0.0.1:1")]
    [InlineData("https://127.0.0.1:{port}")]
    [InlineData("http://127.0.0.1:{port}.evil.example")]
    [InlineData(null)]
    public async Task Origin_ForeignOrMissingOnPost_IsRefused(string? origin)
    {
        using HttpResponseMessage answer = await _open.PostAsync(
            "save",
            new { name = "planted.toml" },
            origin?.Replace("{port}", $"{_open.Server.Port}", StringComparison.Ordinal)
        );
        Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
        Assert.False(File.Exists(_open.In("planted.toml")));
    }

    [Theory]
    [InlineData("Origin", "http://evil.example")]
    [InlineData("Sec-Fetch-Site", "cross-site")]
    [InlineData("Sec-Fetch-Site", "same-site")]
    public async Task Get_FromAForeignPage_IsRefused(string header, string value)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, "session");
        request.Headers.Add(header, value);
        using HttpResponseMessage answer = await _open.Http.SendAsync(request);
        Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
    }

    [Fact]
    public async Task Post_AsAFormWouldSendIt_IsRefused()
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, "save")
        {
            Content = new StringContent("{\"name\":\"planted.toml\"}", Encoding.UTF8, "text/plain"),
        };
        request.Headers.Add("Origin", _open.Origin);
        using HttpResponseMessage answer = await _open.Http.SendAsync(request);
        Assert.Equal(HttpStatusCode.UnsupportedMediaType, answer.StatusCode);
    }

    [Theory]
    [InlineData("PUT")]
    [InlineData("DELETE")]
    [InlineData("OPTIONS")]
    [InlineData("TRACE")]
    public async Task Method_Other_IsRefused(string method)
    {
        using var request = new HttpRequestMessage(new HttpMethod(method), "session");
        using HttpResponseMessage answer = await _open.Http.SendAsync(request);
        Assert.Equal(HttpStatusCode.MethodNotAllowed, answer.StatusCode);
    }

    [Theory]
    [InlineData("../../../../etc/passwd")]
    [InlineData("..%2f..%2f..%2fetc%2fpasswd")]
    [InlineData("%2e%2e/%2e%2e/etc/passwd")]
    [InlineData("vendor/../../gates.toml")]
    [InlineData("vendor/..%5c..%5cgates.toml")]
    [InlineData("gates.toml")]
    [InlineData("scan.h5")]
    [InlineData("//etc/passwd")]
    [InlineData("file:///etc/passwd")]
    public async Task Path_OutOfTheAssets_FindsNothing(string path)
    {
        string answer = await _open.RawAsync(
            $"GET /{Token}/{path} HTTP/1.1\r\nHost: 127.0.0.1:{_open.Server.Port}\r\nConnection: close\r\n\r\n"
        );
        Assert.Matches("^HTTP/1.1 40[04] ", answer);
        Assert.DoesNotContain("root:", answer, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("../planted.toml")]
    [InlineData("/tmp/planted.toml")]
    [InlineData("sub/planted.toml")]
    [InlineData("..\\planted.toml")]
    [InlineData("C:planted.toml")]
    [InlineData(".planted.toml")]
    [InlineData("planted.toml\n")]
    [InlineData("planted\0.toml")]
    [InlineData("planted.h5")]
    [InlineData("")]
    [InlineData("link.toml")]
    public async Task Save_NotANameInTheFolder_IsRefusedAndWritesNothing(string name)
    {
        string outside = Directory.CreateTempSubdirectory("ett-outside").FullName;
        string target = Path.Combine(outside, "target.toml");
        await File.WriteAllTextAsync(target, "untouched");
        File.CreateSymbolicLink(_open.In("link.toml"), target);
        string[] before = Directory.GetFileSystemEntries(_open.Folder);
        using HttpResponseMessage answer = await _open.PostAsync("save", new { name, replace = true });
        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.Equal(before, Directory.GetFileSystemEntries(_open.Folder));
        Assert.Equal("untouched", await File.ReadAllTextAsync(target));
        using HttpResponseMessage reading = await _open.PostAsync(
            "measure",
            new { reference = name.Length == 0 ? "../x.toml" : name }
        );
        Assert.Equal(HttpStatusCode.BadRequest, reading.StatusCode);
        Directory.Delete(outside, recursive: true);
    }

    [Fact]
    public async Task Body_TooLarge_IsRefused()
    {
        using HttpResponseMessage answer = await _open.PostAsync(
            "measure",
            new
            {
                edits = new[]
                {
                    new
                    {
                        kind = "text",
                        key = "",
                        value = new string('#', 300_000),
                    },
                },
            }
        );
        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, answer.StatusCode);
    }

    [Fact]
    public async Task Body_TooSlow_IsCutOff()
    {
        string answer = await _open.RawAsync(
            $"POST /{Token}/save HTTP/1.1\r\nHost: 127.0.0.1:{_open.Server.Port}\r\nOrigin: {_open.Origin}\r\nContent-Type: application/json\r\nContent-Length: 100\r\n\r\n",
            async stream =>
            {
                for (int i = 0; i < 12; i++)
                {
                    try
                    {
                        await stream.WriteAsync("{"u8.ToArray());
                        await Task.Delay(500);
                    }
                    catch (IOException)
                    {
                        return;
                    }
                }
            }
        );
        // Either the answer says so, or the line was cut before it could.
        Assert.Matches("^(HTTP/1.1 (408|400) |$)", answer);
    }

    [Theory]
    [InlineData("[1]")]
    [InlineData("{")]
    [InlineData("{\"scan\":\"x\",\"beam\":0}")]
    [InlineData("{\"scan\":1e99,\"beam\":0}")]
    [InlineData("{\"scan\":-1,\"beam\":0}")]
    [InlineData("{\"scan\":40,\"beam\":0}")]
    [InlineData("{\"a\":{\"a\":{\"a\":{\"a\":{\"a\":{\"a\":{\"a\":{\"a\":{\"a\":1}}}}}}}}}")]
    [InlineData("{\"edits\":7,\"scan\":0,\"beam\":0}")]
    [InlineData("{\"edits\":[{\"kind\":\"run\",\"key\":\"x\"}],\"scan\":0,\"beam\":0}")]
    public async Task Body_OfAnotherForm_IsRefusedInWords(string body)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, "cell")
        {
            Content = new StringContent(body, Encoding.UTF8, "application/json"),
        };
        request.Headers.Add("Origin", _open.Origin);
        using HttpResponseMessage answer = await _open.Http.SendAsync(request);
        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.Contains("faults", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task EveryAnswer_CarriesTheHeadersThatBindTheBrowser()
    {
        foreach (string path in (string[])["", "session", "nothing", "look.css"])
        {
            using HttpResponseMessage answer = await _open.Http.GetAsync(path);
            string policy = Assert.Single(answer.Headers.GetValues("Content-Security-Policy"));
            Assert.StartsWith("default-src 'none'", policy, StringComparison.Ordinal);
            Assert.DoesNotContain("unsafe", policy, StringComparison.Ordinal);
            Assert.Equal("nosniff", Assert.Single(answer.Headers.GetValues("X-Content-Type-Options")));
            Assert.Equal("DENY", Assert.Single(answer.Headers.GetValues("X-Frame-Options")));
            Assert.Equal("no-referrer", Assert.Single(answer.Headers.GetValues("Referrer-Policy")));
            Assert.Equal("same-origin", Assert.Single(answer.Headers.GetValues("Cross-Origin-Resource-Policy")));
            Assert.False(answer.Headers.Contains("Server"));
            Assert.False(answer.Headers.Contains("Access-Control-Allow-Origin"));
        }
    }

    [Fact]
    public async Task OtherAddresses_AreNotServed()
    {
        IPAddress[] others =
        [
            .. NetworkInterface
                .GetAllNetworkInterfaces()
                .SelectMany(i => i.GetIPProperties().UnicastAddresses)
                .Select(a => a.Address)
                .Where(a => a.AddressFamily == AddressFamily.InterNetwork && !IPAddress.IsLoopback(a)),
            IPAddress.Parse("127.0.0.2"),
        ];
        foreach (IPAddress address in others)
        {
            using var client = new TcpClient();
            await Assert.ThrowsAsync<SocketException>(() => client.ConnectAsync(address, _open.Server.Port));
        }
    }
}
