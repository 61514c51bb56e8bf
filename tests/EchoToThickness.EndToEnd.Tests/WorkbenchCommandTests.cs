using System.Net;
using System.Net.Sockets;
using System.Text;
using System.Text.Json;
using EchoToThickness.Cli.Terminal;
using EchoToThickness.Procedures;
using Xunit;

namespace EchoToThickness.EndToEnd.Tests;

/// <summary>The command as it is typed: it serves, a rule is turned and saved, it stops, and the command line does the same again.</summary>
public sealed class WorkbenchCommandTests(SmallScan scan) : IClassFixture<SmallScan>
{
    [Fact]
    public async Task Workbench_RuleTurnedAndSaved_IsReplayedByTheCommandThePageNames()
    {
        using var stop = new CancellationTokenSource();
        using var data = new StringWriter();
        using var words = new StringWriter();
        var talk = new Talk(TextWriter.Synchronized(data), TextWriter.Synchronized(words), IsTerminal: false);
        string text = "# kept\n[wall]\nminimum = \"2 mm\" # thin\n";
        await File.WriteAllTextAsync(scan.In("rules.toml"), text, TestContext.Current.CancellationToken);
        Task<int> command = Task.Run(
            () =>
                CommandLineProgram.Run(
                    ["workbench", scan.Stack, "-p", scan.In("rules.toml"), "--no-browser"],
                    talk,
                    stop.Token
                ),
            TestContext.Current.CancellationToken
        );
        Uri url = await UrlAsync(command, data);
        using var http = new HttpClient { BaseAddress = url };
        http.DefaultRequestHeaders.Add("Origin", url.GetLeftPart(UriPartial.Authority));
        Assert.Contains(
            "<title>",
            await http.GetStringAsync("", TestContext.Current.CancellationToken),
            StringComparison.Ordinal
        );
        await PostAsync(
            http,
            "measure",
            "{\"edits\":[{\"kind\":\"set\",\"key\":\"wall.minimum\",\"value\":\"3 mm\"}],\"commit\":\"thinnest\"}"
        );
        JsonElement document = JsonDocument
            .Parse(await PostAsync(http, "save", "{\"name\":\"rules.toml\"}"))
            .RootElement.GetProperty("document");
        await stop.CancelAsync();
        Assert.Equal(ExitCode.Done, await command);
        Assert.Contains("stopped", words.ToString(), StringComparison.Ordinal);

        string saved = await File.ReadAllTextAsync(scan.In("rules.toml"), TestContext.Current.CancellationToken);
        Assert.Equal(text.Replace("2 mm", "3 mm", StringComparison.Ordinal), saved);
        string typed = document.GetProperty("measure").GetString()!;
        Assert.Equal($"ett measure {scan.Stack} -p {scan.In("rules.toml")} -o grid.h5", typed);
        string[] parts = typed.Replace("grid.h5", scan.In("replayed.h5"), StringComparison.Ordinal).Split(' ')[1..];
        Assert.Equal(ExitCode.Done, Run.Of(parts).Code);
        using var grid = Storage.Grids.GridFile.Open(scan.In("replayed.h5"));
        Assert.Equal(3e-3, ProcedureText.Parse(grid.Maps[0].Facts.ProcedureText, "grid").Wall.MinimumMetres, 1e-12);
    }

    [Fact]
    public void Workbench_PortTaken_SaysSoAndHowToFixIt()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        int port = ((IPEndPoint)listener.LocalEndpoint).Port;
        Run run = Run.Of("workbench", scan.Stack, "--no-browser", "--port", $"{port}");
        Assert.Equal(ExitCode.CouldNotRun, run.Code);
        Assert.Contains($"Port {port} is taken", run.Words, StringComparison.Ordinal);
        Assert.Contains("--port", run.Words, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("nothing.h5", null, "nothing.h5")]
    [InlineData(null, "nothing.h5", "nothing.h5")]
    public void Workbench_MissingFile_IsTold(string? stack, string? grid, string named)
    {
        string[] typed = ["workbench", stack is null ? scan.Stack : scan.In(stack), "--no-browser"];
        Run run = Run.Of(grid is null ? typed : [.. typed, "--grid", scan.In(grid)]);
        Assert.Equal(ExitCode.CouldNotRun, run.Code);
        Assert.Contains(named, run.Words.Replace("\n", "", StringComparison.Ordinal), StringComparison.Ordinal);
    }

    private static async Task<Uri> UrlAsync(Task<int> command, StringWriter data)
    {
        for (int i = 0; i < 600 && !command.IsCompleted; i++)
        {
            string said;
            lock (data)
                said = data.ToString().Trim();
            if (said.EndsWith('/'))
                return new Uri(said);
            await Task.Delay(50, TestContext.Current.CancellationToken);
        }
        throw new TimeoutException("The workbench printed no URL.");
    }

    private static async Task<string> PostAsync(HttpClient http, string route, string json)
    {
        using var body = new StringContent(json, Encoding.UTF8, "application/json");
        using HttpResponseMessage answer = await http.PostAsync(route, body, TestContext.Current.CancellationToken);
        string text = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        Assert.True(answer.IsSuccessStatusCode, text);
        return text;
    }
}
