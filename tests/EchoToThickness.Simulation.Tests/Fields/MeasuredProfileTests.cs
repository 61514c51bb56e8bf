using EchoToThickness.Measurement;
using EchoToThickness.Procedures;
using EchoToThickness.Simulation.Fields;
using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Grids;
using Xunit;
using static EchoToThickness.Simulation.Tests.Fields.FieldScenes;

namespace EchoToThickness.Simulation.Tests.Fields;

public sealed class MeasuredProfileTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("profile").FullName;

    public void Dispose() => Directory.Delete(_folder, true);

    [Fact]
    public void ThicknessAt_TableOfWalls_IsReadByStraightLines()
    {
        WallField field = Compile(
            "8,8,8\n8,6,8\n8,8,\n",
            new MeasuredProfile { StepAlongMetres = 4e-3, StepAroundMetres = 2e-3 }
        );
        Assert.Equal(6e-3, At(field, 100, 100), 6);
        Assert.Equal(7e-3, At(field, 98, 100), 6);
        Assert.Equal(7.5e-3, At(field, 98, 99), 6);
        // Where a neighbour is missing, and outside, the base wall stays.
        Assert.Equal(10e-3, At(field, 103, 101.5), 9);
        Assert.Equal(10e-3, At(field, 95, 100), 9);
        Assert.False(field.IsFlatWithin(new SurfacePoint(0.1, 0.1), 1e-3));
    }

    [Fact]
    public void ThicknessAt_TableOfLossesWithPositions_IsScaledAndTakenAway()
    {
        WallField field = Compile(
            "loss_mm,0,2,4\n0,0,0,0\n4,0,1,0\n8,0,0,0\n",
            new MeasuredProfile { IsWall = false, Scale = 1.5 }
        );
        Assert.Equal(8.5e-3, At(field, 100, 100), 6);
        Assert.Equal(9.25e-3, At(field, 102, 100), 6);
    }

    [Fact]
    public void ThicknessAt_GridThatWasMeasured_IsTheWallThatWasMeasured()
    {
        const int side = 12;
        using var scan = new EchoTrainSource(
            new EchoTrainScene
            {
                Scans = side,
                Beams = side,
                Wall = new WallMap
                {
                    NominalMetres = 9e-3,
                    Steps = [new MachinedStep(new PlanRectangle(0, 5.5e-3, 0, 0.1), 6e-3)],
                },
                NotScanned = [new PlanRectangle(9.5e-3, 11.5e-3, 8.5e-3, 9.5e-3)],
            }
        );
        string path = Path.Combine(_folder, "grid.h5");
        MeasurementPlan plan = MeasurementPlan.Compile(new Procedure(), scan.Info);
        using (var grid = new GridFileWriter(path))
            MeasurementEngine.Run(scan, plan, plan.CreateHeader("test"), grid, new MeasurementOptions());

        WallField field = WallField.Compile(
            Of(
                Plate,
                new WallSection
                {
                    Profiles =
                    [
                        new MeasuredProfile
                        {
                            File = "grid.h5",
                            Along = Mm(100),
                            Around = Mm(100),
                        },
                    ],
                }
            ),
            _folder
        );

        // Rows and columns 1 mm apart, the middle of the grid at 100 mm. A flat step at this noise is read to a micrometre or so.
        Assert.Equal(6e-3, At(field, 100 - 4.5, 100), 5e-6);
        Assert.Equal(9e-3, At(field, 100 + 2.5, 100), 5e-6);
        // Beside cells that nobody scanned the base wall of 10 mm stays.
        Assert.Equal(10e-3, At(field, 100 + 4.5, 100 + 3.5), 1e-9);
    }

    [Theory]
    [InlineData("1,2\n3\n", "line 2")]
    [InlineData("1,2\n3,x\n", "line 2, field 2")]
    [InlineData("1,2\n", "two rows")]
    public void Compile_BadTable_SaysWhere(string text, string part)
    {
        StackFormatException error = Assert.Throws<StackFormatException>(() =>
            Compile(text, new MeasuredProfile { StepAlongMetres = 1e-3, StepAroundMetres = 1e-3 })
        );
        Assert.Contains(part, error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Compile_NoDistancesOrNoFile_SaysHowToFix()
    {
        Assert.Contains(
            "step_along",
            Assert.Throws<StackFormatException>(() => Compile("1,2\n3,4\n", new MeasuredProfile())).Message,
            StringComparison.Ordinal
        );
        var scene = Of(Plate, new WallSection { Profiles = [new MeasuredProfile { File = "none.csv" }] });
        Assert.Contains(
            "none.csv",
            Assert.Throws<StackFormatException>(() => WallField.Compile(scene, _folder)).Message,
            StringComparison.Ordinal
        );
    }

    private WallField Compile(string text, MeasuredProfile profile)
    {
        File.WriteAllText(Path.Combine(_folder, "profile.csv"), text);
        MeasuredProfile placed = profile with { File = "profile.csv", Along = Mm(100), Around = Mm(100) };
        return WallField.Compile(Of(Plate, new WallSection { Profiles = [placed] }), _folder);
    }

    private static double At(WallField field, double along, double around) =>
        field.ThicknessAt(new SurfacePoint(along / 1000, around / 1000));
}
