using EchoToThickness.Procedures;
using EchoToThickness.Simulation.Rendering;
using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Native;
using Xunit;

namespace EchoToThickness.Simulation.Tests.Rendering;

public sealed class SceneStackTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("ett-scene").FullName;

    /// <summary>Small, and with everything random that a scene can have.</summary>
    private const string Scene = """
        [component]
        kind = "pipe"
        nps = "4"
        schedule = "40"
        length = "60 mm"
        [[wall.roughness]]
        rms = "0.05 mm"
        [[wall.cluster]]
        count = 5
        median_depth = "0.8 mm"
        max_depth = "50 %"
        shape = "ellipsoidal"
        [[wall.lamination]]
        depth = "3 mm"
        along = "20 mm"
        around = "8 mm"
        length = "8 mm"
        width = "8 mm"
        [coupling]
        jitter = "0.02 mm"
        reverberation = "15 %"
        [[coupling.bubble]]
        density = 2000
        [array]
        elements = 14
        aperture_elements = 8
        [scan]
        lines = 2
        pitch = "6 mm"
        [instrument]
        bits = 12
        grain_noise = "0.3 %"
        trigger_jitter = "2 ns"
        spikes = 0.1
        """;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    private string File(string name) => Path.Combine(_folder, name);

    private static SceneModel Model() => SceneModel.Compile(SceneText.Read(Scene, "small.toml").Value);

    [Fact]
    public void Write_OneThreadAndThree_SameBytes()
    {
        var options = new StackWriterOptions { FlushToDisk = false };
        CancellationToken cancellation = TestContext.Current.CancellationToken;
        SceneStack.Write(Model(), File("one.h5"), options, threads: 1, cancellation: cancellation);
        SceneStack.Write(Model(), File("three.h5"), options, threads: 3, cancellation: cancellation);
        Assert.Equal(System.IO.File.ReadAllBytes(File("one.h5")), System.IO.File.ReadAllBytes(File("three.h5")));
    }

    [Fact]
    public void Write_ThenRead_IsWhatTheSourceComputes()
    {
        SceneModel model = Model();
        var progress = new List<SceneProgress>();
        SceneSummary summary = SceneStack.Write(
            model,
            File("stack.h5"),
            new StackWriterOptions { FlushToDisk = false },
            progress: new Collector(progress),
            cancellation: TestContext.Current.CancellationToken
        );
        Assert.Equal(model.Cells, summary.Cells);
        Assert.Equal(new SceneProgress(model.Cells, model.Cells), progress[^1]);
        using StackFile file = StackFile.Open(File("stack.h5"));
        Assert.Equal(["line-01", "line-02"], file.LineNames);
        for (int line = 0; line < 2; line++)
        {
            StackLine stored = file.Line(file.LineNames[line]);
            using var source = new SceneSource(model, line);
            StackShape shape = source.Info.Shape;
            Assert.Equal(shape, stored.Info.Shape);
            using IAScanReader one = stored.OpenReader();
            using IAScanReader other = source.OpenReader();
            Assert.True(
                one.Lend(0, shape.Scans, 0, shape.Beams)
                    .Bytes.SequenceEqual(other.Lend(0, shape.Scans, 0, shape.Beams).Bytes)
            );
            Assert.Equal(source.TruthLayers.Order(), stored.TruthLayers.Order());
            var expected = new double[shape.Cells];
            var found = new double[shape.Cells];
            foreach (string layer in source.TruthLayers)
            {
                source.ReadTruth(layer, 0, shape.Scans, expected);
                stored.ReadTruth(layer, 0, shape.Scans, found);
                Assert.Equal(expected, found);
            }
            var planted = new uint[shape.Cells];
            var labels = new uint[shape.Cells];
            source.ReadLabels("planted", 0, shape.Scans, planted);
            stored.ReadLabels("planted", 0, shape.Scans, labels);
            Assert.Equal(planted, labels);
            Assert.Contains(labels, label => label != 0);
        }
    }

    [Fact]
    public void Write_Cancelled_LeavesNothing()
    {
        using var cancelled = new CancellationTokenSource();
        cancelled.Cancel();
        Assert.Throws<OperationCanceledException>(() =>
            SceneStack.Write(Model(), File("stack.h5"), cancellation: cancelled.Token)
        );
        Assert.Empty(Directory.GetFiles(_folder));
    }

    [Fact]
    public void Compile_LossesThatAddUpToMoreThanTheWall_SaysWhere()
    {
        const string toml =
            Simulated.Plate
            + "[[wall.patch]]\nalong = \"30 mm\"\naround = \"30 mm\"\ndepth = \"60 %\"\n[[wall.patch]]\nalong = \"30 mm\"\naround = \"30 mm\"\ndepth = \"60 %\"\n";
        ProcedureException error = Assert.Throws<ProcedureException>(() => Simulated.Model(toml));
        Assert.Contains("no metal is left", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Compile_LaminationInThinAir_NamesItsKey()
    {
        const string toml =
            Simulated.Plate
            + "[[wall.step]]\nalong = \"30 mm\"\nlength = \"20 mm\"\nwall = \"4 mm\"\n[[wall.lamination]]\nalong = \"30 mm\"\naround = \"30 mm\"\ndepth = \"6 mm\"\n";
        ProcedureException error = Assert.Throws<ProcedureException>(() => Simulated.Model(toml));
        Assert.Equal("wall.lamination[1].depth", error.Findings[0].Key);
    }

    private sealed class Collector(List<SceneProgress> list) : IProgress<SceneProgress>
    {
        public void Report(SceneProgress value) => list.Add(value);
    }
}
