using System.Net.Http.Headers;
using System.Net.Sockets;
using System.Text;
using System.Text.Json;
using EchoToThickness.Simulation;
using EchoToThickness.Workbench.Sessions;
using Xunit;

namespace EchoToThickness.Workbench.Tests;

/// <summary>A workbench over a small invented stack, in a folder of its own, and ways to talk to it.</summary>
public sealed class OpenWorkbench : IDisposable, IAsyncDisposable
{
    public const int Scans = 40;
    public const int Beams = 18;

    public const string Gates = """
        # The gates of the test, with comments that must live.
        [procedure]
        name = "test" # a name

        [interface]
        pick = "peak"

        [[gate]]
        name = "wall 1"
        start = "0.7 us"   # behind the interface
        width = "4 us"
        level = "3 % of full scale"

        [pairing]
        rule = "difference"
        to = "wall 1"

        """;

    private OpenWorkbench(WorkbenchSession session, WorkbenchServer server, string folder)
    {
        Session = session;
        Server = server;
        Folder = folder;
        Http = new HttpClient { BaseAddress = server.Url };
    }

    public WorkbenchSession Session { get; }
    public WorkbenchServer Server { get; }
    public string Folder { get; }
    public HttpClient Http { get; }

    public string Origin => $"http://127.0.0.1:{Server.Port}";

    public string In(string name) => Path.Combine(Folder, name);

    public static EchoTrainSource Source() =>
        new(
            new EchoTrainScene
            {
                Name = "small scan",
                Scans = Scans,
                Beams = Beams,
                Wall = new WallMap { NominalMetres = 8e-3, Pits = [new Pit(0.012, 0.009, 0.007, 2e-3)] },
                Couplant = new CouplantPath(3.2e-3, 0.1e-3, 0.05),
                NotScanned = [new PlanRectangle(0.002, 0.004, 0, 0.006)],
                Seed = 5,
            }
        );

    public static async Task<OpenWorkbench> StartAsync(Func<WorkbenchOptions, WorkbenchOptions>? change = null)
    {
        string folder = Directory.CreateTempSubdirectory("ett-workbench").FullName;
        string stack = Path.Combine(folder, "scan.h5");
        using (EchoTrainSource source = Source())
            EchoTrainStack.Write(source, stack);
        string procedure = Path.Combine(folder, "gates.toml");
        await File.WriteAllTextAsync(procedure, Gates);
        var options = new WorkbenchOptions { StackPath = stack, ProcedurePath = procedure };
        WorkbenchSession session = WorkbenchSession.Open(change?.Invoke(options) ?? options, CancellationToken.None);
        return new OpenWorkbench(session, await WorkbenchServer.StartAsync(session), folder);
    }

    public async Task<HttpResponseMessage> PostAsync(string route, object body, string? origin = "own")
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, route)
        {
            Content = new ByteArrayContent(JsonSerializer.SerializeToUtf8Bytes(body)),
        };
        request.Content.Headers.ContentType = new MediaTypeHeaderValue("application/json");
        if (origin is not null)
            request.Headers.Add("Origin", origin == "own" ? Origin : origin);
        return await Http.SendAsync(request);
    }

    public async Task<JsonElement> AskAsync(string route, object? body = null)
    {
        using HttpResponseMessage answer = body is null ? await Http.GetAsync(route) : await PostAsync(route, body);
        string text = await answer.Content.ReadAsStringAsync();
        Assert.True(answer.IsSuccessStatusCode, $"{route}: {answer.StatusCode} {text}");
        return JsonDocument.Parse(text).RootElement;
    }

    /// <summary>Bytes as they are, for requests that no client library would send; gives what came back before the line was cut.</summary>
    public async Task<string> RawAsync(string head, Func<NetworkStream, Task>? more = null)
    {
        using var client = new TcpClient();
        await client.ConnectAsync("127.0.0.1", Server.Port);
        NetworkStream stream = client.GetStream();
        await stream.WriteAsync(Encoding.ASCII.GetBytes(head));
        if (more is not null)
            await more(stream);
        var answer = new MemoryStream();
        try
        {
            await stream.CopyToAsync(answer, new CancellationTokenSource(TimeSpan.FromSeconds(20)).Token);
        }
        catch (IOException)
        {
            // Cut off: what came before counts.
        }
        return Encoding.UTF8.GetString(answer.ToArray());
    }

    public void Dispose() => DisposeAsync().AsTask().GetAwaiter().GetResult();

    public async ValueTask DisposeAsync()
    {
        Http.Dispose();
        await Server.DisposeAsync();
        Session.Dispose();
        Directory.Delete(Folder, recursive: true);
    }
}
