using EchoToThickness.Simulation;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Native;
using Xunit;

namespace EchoToThickness.Simulation.Tests;

public sealed class EchoTrainStackTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("ett-scene").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void Write_SmallScene_ReadsBackWithTruthAndMask()
    {
        var source = new EchoTrainSource(
            new EchoTrainScene
            {
                Scans = 11,
                Beams = 5,
                Samples = 600,
                NotScanned = [new PlanRectangle(0.002, 0.004, 0, 0.003)],
            }
        );
        string path = Path.Combine(_folder, "scene.h5");
        EchoTrainStack.Write(source, path, cancellation: TestContext.Current.CancellationToken);

        using StackFile file = StackFile.Open(path);
        using StackLine line = file.Line(file.LineNames.Single());
        Assert.Equal(source.Info.Shape, line.Info.Shape);
        Assert.Equal(source.Info.TimeBase.SampleRateHz, line.Info.TimeBase.SampleRateHz);
        Assert.Equal(source.Info.ScanPositionsMetres, line.Info.ScanPositionsMetres);
        using IAScanReader written = line.OpenReader();
        using IAScanReader scene = source.OpenReader();
        for (int scan = 0; scan < 11; scan++)
        {
            AScanBlock expected = scene.Lend(scan, 1, 0, 5);
            AScanBlock found = written.Lend(scan, 1, 0, 5);
            Assert.True(expected.Bytes.SequenceEqual(found.Bytes), $"scan position {scan}");
            for (int beam = 0; beam < 5; beam++)
                Assert.Equal(expected.IsPresent(0, beam), found.IsPresent(0, beam));
        }
        Assert.False(written.Lend(2, 1, 0, 5).IsPresent(0, 2));
        var truth = new double[55];
        line.ReadTruth("thickness", 0, 11, truth);
        Assert.All(truth, wall => Assert.Equal(9e-3, wall, 1e-9));
    }

    [Fact]
    public void Write_SameSceneTwice_GivesTheSameBytes()
    {
        var scene = new EchoTrainScene
        {
            Scans = 20,
            Beams = 16,
            Samples = 500,
        };
        string[] paths = [Path.Combine(_folder, "a.h5"), Path.Combine(_folder, "b.h5")];
        foreach (string path in paths)
            EchoTrainStack.Write(new EchoTrainSource(scene), path, cancellation: TestContext.Current.CancellationToken);
        Assert.Equal(File.ReadAllBytes(paths[0]), File.ReadAllBytes(paths[1]));
    }

    [Fact]
    public void Write_Cancelled_LeavesNothing()
    {
        using var stop = new CancellationTokenSource();
        stop.Cancel();
        Assert.ThrowsAny<OperationCanceledException>(() =>
            EchoTrainStack.Write(DemoScene.Create(), Path.Combine(_folder, "c.h5"), cancellation: stop.Token)
        );
        Assert.Empty(Directory.GetFiles(_folder));
    }
}
