using System.Buffers.Binary;
using System.Net;
using System.Runtime.InteropServices;
using System.Text.Json;
using EchoToThickness.Grids;
using EchoToThickness.Measurement;
using EchoToThickness.Procedures;
using EchoToThickness.Reporting.Explain;
using EchoToThickness.Studies.Review;
using EchoToThickness.Workbench.Sessions;
using Xunit;

namespace EchoToThickness.Workbench.Tests;

/// <summary>What the page is sent is what the engine of `measure` and `explain` gives: both are run here and compared.</summary>
public sealed class MeasuringTests : IAsyncLifetime
{
    private const int Cells = OpenWorkbench.Scans * OpenWorkbench.Beams;
    private static readonly string[] AllLayers = ["thickness", "margin", "wrong_echo_probability"];
    private OpenWorkbench _open = null!;

    public async ValueTask InitializeAsync() => _open = await OpenWorkbench.StartAsync();

    public ValueTask DisposeAsync() => _open.DisposeAsync();

    private static object Set(string key, string value) =>
        new
        {
            kind = "set",
            key,
            value,
        };

    /// <summary>A map put together from the frames, with how often each line came.</summary>
    private static (float[] Walls, byte[] Status, int[] Arrivals, JsonElement Begin, bool Ended) Read(byte[] bytes)
    {
        var walls = new float[Cells];
        var status = new byte[Cells];
        var arrivals = new int[OpenWorkbench.Scans];
        JsonElement begin = default;
        bool ended = false;
        int layers = 0;
        for (int at = 0; at < bytes.Length; )
        {
            int length = BinaryPrimitives.ReadInt32LittleEndian(bytes.AsSpan(at + 1));
            ReadOnlySpan<byte> payload = bytes.AsSpan(at + 5, length);
            switch (bytes[at])
            {
                case 1:
                    begin = JsonDocument.Parse(payload.ToArray()).RootElement;
                    layers = begin.GetProperty("layers").GetArrayLength();
                    break;
                case 2:
                    int first = BinaryPrimitives.ReadInt32LittleEndian(payload);
                    int count = BinaryPrimitives.ReadInt32LittleEndian(payload[4..]);
                    int cells = count * OpenWorkbench.Beams;
                    MemoryMarshal
                        .Cast<byte, float>(payload.Slice(8, 4 * cells))
                        .CopyTo(walls.AsSpan(first * OpenWorkbench.Beams));
                    payload[(8 + 4 * cells * layers)..].CopyTo(status.AsSpan(first * OpenWorkbench.Beams));
                    for (int line = first; line < first + count; line++)
                        arrivals[line]++;
                    break;
                case 3:
                    ended = true;
                    break;
            }
            at += 5 + length;
        }
        return (walls, status, arrivals, begin, ended);
    }

    private async Task<(float[] Walls, byte[] Status, int[] Arrivals, JsonElement Begin, bool Ended)> MeasureAsync(
        object body
    )
    {
        using HttpResponseMessage answer = await _open.PostAsync("measure", body);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        return Read(await answer.Content.ReadAsByteArrayAsync());
    }

    /// <summary>The same by the engine alone, from the file.</summary>
    private (float[] Walls, byte[] Status) Expected(string text)
    {
        using var source = OpenWorkbench.Source();
        string stack = _open.In("scan.h5");
        var line = Storage.Foreign.StackOpener.Open(stack)[0].Source;
        MeasurementPlan plan = MeasurementPlan.Compile(ProcedureText.Parse(text, "test"), line.Info);
        var sink = new WholeSink();
        MeasurementEngine.Run(line, plan, plan.CreateHeader(""), sink, new MeasurementOptions { Threads = 1 });
        line.Dispose();
        return (sink.Walls, sink.Status);
    }

    [Theory]
    [InlineData("")]
    [InlineData(OpenWorkbench.Gates)]
    public async Task Measure_WholeMap_IsThatOfTheEngine(string text)
    {
        (float[] walls, byte[] status) = Expected(text);
        object edits = new[]
        {
            new
            {
                kind = "text",
                key = "",
                value = text,
            },
        };
        var found = await MeasureAsync(
            new
            {
                edits,
                layers = AllLayers,
                firstScan = 20,
                scanCount = 5,
            }
        );
        Assert.Equal(walls.Select(BitConverter.SingleToInt32Bits), found.Walls.Select(BitConverter.SingleToInt32Bits));
        Assert.Equal(status, found.Status);
        Assert.All(found.Arrivals, n => Assert.Equal(1, n));
        Assert.True(found.Ended);
        // The scene has a pit, and cells nobody scanned.
        Assert.Contains((byte)7, found.Status);
        Assert.InRange(found.Walls.Where(w => !float.IsNaN(w)).Min(), 5.9e-3f, 6.2e-3f);
    }

    [Fact]
    public async Task Measure_TriedEdit_ChangesTheMapButNotTheHistory()
    {
        string text = TomlEditor.Set<Procedure>(OpenWorkbench.Gates, "gate[1].width", "1.5 us");
        var found = await MeasureAsync(new { edits = new[] { Set("gate[1].width", "1.5 us") } });
        Assert.Equal(Expected(text).Status, found.Status);
        Assert.NotEqual(Expected(OpenWorkbench.Gates).Status, found.Status);
        Assert.Equal(text, found.Begin.GetProperty("text").GetString());
        Assert.Equal("1.5 us", found.Begin.GetProperty("values").GetProperty("gate[1].width").GetString());
        JsonElement document = (await _open.AskAsync("document")).GetProperty("document");
        Assert.Equal(OpenWorkbench.Gates, document.GetProperty("text").GetString());
        Assert.Equal(JsonValueKind.Null, document.GetProperty("undo").ValueKind);
    }

    [Fact]
    public async Task Measure_Committed_CanBeUndoneRedoneAndSavedWithItsComments()
    {
        await MeasureAsync(new { edits = new[] { Set("gate[1].start", "0.8 us") }, commit = "start moved" });
        JsonElement document = (await _open.AskAsync("document")).GetProperty("document");
        Assert.Equal("start moved", document.GetProperty("undo").GetString());
        Assert.False(document.GetProperty("saved").GetBoolean());
        document = (await _open.AskAsync("history", new { step = -1 })).GetProperty("document");
        Assert.Equal(OpenWorkbench.Gates, document.GetProperty("text").GetString());
        Assert.Equal("start moved", document.GetProperty("redo").GetString());
        document = (await _open.AskAsync("history", new { step = 1 })).GetProperty("document");
        document = (await _open.AskAsync("save", new { name = "gates.toml" })).GetProperty("document");
        Assert.True(document.GetProperty("saved").GetBoolean());
        string saved = await File.ReadAllTextAsync(_open.In("gates.toml"));
        Assert.Equal(
            OpenWorkbench.Gates.Replace("start = \"0.7 us\"   #", "start = \"0.8 us\"   #", StringComparison.Ordinal),
            saved
        );
        Assert.Equal(
            $"ett measure {_open.In("scan.h5")} -p {_open.In("gates.toml")} -o grid.h5",
            document.GetProperty("measure").GetString()
        );
    }

    [Fact]
    public async Task Save_AnotherFileOfThatName_IsKeptUntilToldOtherwise()
    {
        await File.WriteAllTextAsync(_open.In("other.toml"), "# theirs");
        using (HttpResponseMessage refused = await _open.PostAsync("save", new { name = "other.toml" }))
            Assert.Equal(HttpStatusCode.BadRequest, refused.StatusCode);
        Assert.Equal("# theirs", await File.ReadAllTextAsync(_open.In("other.toml")));
        await _open.AskAsync("save", new { name = "other.toml", replace = true });
        Assert.Equal(OpenWorkbench.Gates, await File.ReadAllTextAsync(_open.In("other.toml")));
    }

    [Theory]
    [InlineData("gate[1].start", "soon", "gate[1].start")]
    [InlineData("gate[1].begin", "1 us", "gate[1].begin")]
    [InlineData("pairing.to", "wall 9", "pairing.to")]
    [InlineData("conditioning.band_high", "900 MHz", "conditioning.band")]
    public async Task Measure_WrongRule_IsRefusedWithKeyAndRemedy(string key, string value, string named)
    {
        using HttpResponseMessage answer = await _open.PostAsync(
            "measure",
            new { edits = new[] { Set(key, value) }, commit = "x" }
        );
        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        JsonElement fault = JsonDocument
            .Parse(await answer.Content.ReadAsStringAsync())
            .RootElement.GetProperty("faults")[0];
        Assert.StartsWith(named, fault.GetProperty("key").GetString(), StringComparison.Ordinal);
        Assert.NotEqual("", fault.GetProperty("remedy").GetString());
        // Nothing of it is left behind.
        Assert.True((await _open.AskAsync("document")).GetProperty("document").GetProperty("saved").GetBoolean());
    }

    [Theory]
    [InlineData(12, 9)]
    [InlineData(2, 1)]
    public async Task Cell_Explained_IsThePageOfExplain(int scan, int beam)
    {
        JsonElement told = await _open.AskAsync("cell", new { scan, beam });
        MeasurementPlan plan = MeasurementPlan.Compile(
            ProcedureText.Parse(OpenWorkbench.Gates, "test"),
            _open.Session.Source.Info
        );
        var trace = new MeasurementTrace();
        trace.Result = MeasurementEngine.Explain(_open.Session.Source, plan, scan, beam, trace);
        Assert.Equal(
            ExplainPage.Of(trace, plan, CellBudget.Of(plan, trace.Result)),
            told.GetProperty("page").GetString()
        );
        Assert.Equal(trace.Raw.Length * 4, told.GetProperty("raw").GetBytesFromBase64().Length);
        Assert.EndsWith(
            $"--scan {scan} --beam {beam}",
            told.GetProperty("command").GetString(),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public async Task Section_AlongAndAcross_HoldsTheStoredSamples()
    {
        foreach (
            (string axis, int count) in ((string, int)[])[("scan", OpenWorkbench.Scans), ("beam", OpenWorkbench.Beams)]
        )
        {
            using HttpResponseMessage answer = await _open.PostAsync(
                "section",
                new
                {
                    axis,
                    scan = 20,
                    beam = 9,
                    cells = 400,
                }
            );
            byte[] bytes = await answer.Content.ReadAsByteArrayAsync();
            int head = BinaryPrimitives.ReadInt32LittleEndian(bytes.AsSpan(1));
            JsonElement about = JsonDocument.Parse(bytes.AsMemory(5, head)).RootElement;
            Assert.Equal(count, about.GetProperty("count").GetInt32());
            int samples = about.GetProperty("samples").GetInt32();
            byte[] values = bytes[(10 + head)..];
            Assert.Equal(count * samples, values.Length);
            // The selected cell: the interface echo of 0.7 of full scale is the largest.
            sbyte[] own = [.. values.Skip((axis == "scan" ? 20 : 9) * samples).Take(samples).Select(b => (sbyte)b)];
            Assert.InRange(own.Max(v => Math.Abs((int)v)), 80, 96);
        }
        using HttpResponseMessage missing = await _open.PostAsync(
            "section",
            new
            {
                axis = "scan",
                scan = 2,
                beam = 1,
                cells = 1,
            }
        );
        byte[] none = await missing.Content.ReadAsByteArrayAsync();
        Assert.Equal(0x80, none[^1]); // nobody scanned there
    }

    [Fact]
    public async Task Doubtful_AfterAFullMap_IsTheListOfTheReview()
    {
        await MeasureAsync(new { layers = AllLayers });
        JsonElement list = await _open.AskAsync("doubtful");
        MapResult map = _open.Session.Current!;
        IReadOnlyList<DoubtfulCell> expected = DoubtfulCells.Find(
            map.Scans,
            map.Beams,
            map[GridLayer.Thickness],
            map.Status,
            map[GridLayer.Margin],
            map[GridLayer.WrongEchoProbability],
            _open.Session.Source.Info.Neighbours,
            new DoubtRules()
        );
        Assert.Equal(expected.Count, list.GetProperty("count").GetInt32());
        Assert.NotEmpty(expected);
        Assert.Equal(expected[0].Scan, list.GetProperty("cells")[0].GetProperty("scan").GetInt32());
    }

    [Fact]
    public async Task Change_AgainstAFileOfTheFolder_CountsEveryCellOnce()
    {
        await File.WriteAllTextAsync(
            _open.In("short.toml"),
            TomlEditor.Set<Procedure>(OpenWorkbench.Gates, "gate[1].width", "1.5 us")
        );
        await MeasureAsync(new { layers = AllLayers });
        var reference = await MeasureAsync(new { reference = "short.toml" });
        JsonElement change = await _open.AskAsync("change");
        int sum = new[] { "same", "thinner", "thicker", "gained", "lost", "neither" }.Sum(n =>
            change.GetProperty(n).GetInt32()
        );
        Assert.Equal(Cells, sum);
        Assert.Equal(
            Expected(OpenWorkbench.Gates)
                .Walls.Zip(reference.Walls)
                .Count(p => !float.IsNaN(p.First) && float.IsNaN(p.Second)),
            change.GetProperty("gained").GetInt32()
        );
        // The procedure that is being turned is still the same one.
        Assert.Equal(
            OpenWorkbench.Gates,
            (await _open.AskAsync("document")).GetProperty("document").GetProperty("text").GetString()
        );
    }

    [Fact]
    public async Task Truth_IsThatOfTheStack()
    {
        using HttpResponseMessage answer = await _open.Http.GetAsync("truth");
        float[] truth = Read(await answer.Content.ReadAsByteArrayAsync()).Walls;
        // 8 mm of wall with one pit 2 mm deep whose centre is cell (12, 9).
        Assert.Equal(6e-3f, truth[12 * OpenWorkbench.Beams + 9], 1e-5f);
        Assert.Equal(8e-3f, truth[30 * OpenWorkbench.Beams], 1e-5f);
    }

    [Fact]
    public async Task Form_HoldsEveryKeyOfTheSchema()
    {
        JsonElement form = await _open.AskAsync("form");
        string[] found =
        [
            .. form.GetProperty("sections")
                .EnumerateArray()
                .SelectMany(s =>
                    s.GetProperty("keys").EnumerateArray().Select(k => $"{s.GetProperty("key")}.{k.GetProperty("key")}")
                ),
        ];
        string[] expected =
        [
            .. KeyDescription
                .Of(typeof(Procedure))
                .SelectMany(s => KeyDescription.Of(s.ValueType).Select(k => $"{s.Key}.{k.Key}")),
        ];
        Assert.Equal(expected, found);
    }

    [Fact]
    public async Task Stack_TooLargeForTheMemory_IsReadFromTheDiskAndGivesTheSameMap()
    {
        await using OpenWorkbench streaming = await OpenWorkbench.StartAsync(o => o with { MemoryBytes = 0 });
        Assert.False(streaming.Session.InMemory);
        Assert.True(_open.Session.InMemory);
        using HttpResponseMessage answer = await streaming.PostAsync("measure", new { layers = AllLayers });
        var found = Read(await answer.Content.ReadAsByteArrayAsync());
        Assert.Equal(Expected(OpenWorkbench.Gates).Status, found.Status);
    }

    private sealed class WholeSink : IGridSink
    {
        public float[] Walls { get; } = new float[Cells];
        public byte[] Status { get; } = new byte[Cells];

        public void Begin(GridHeader header) { }

        public void Write(GridTile tile)
        {
            tile[GridLayer.Thickness].AsSpan(0, tile.Count).CopyTo(Walls.AsSpan(tile.FirstScan * OpenWorkbench.Beams));
            tile.Status.AsSpan(0, tile.Count).CopyTo(Status.AsSpan(tile.FirstScan * OpenWorkbench.Beams));
        }

        public void Complete(GridSummary summary) { }
    }
}
