using System.Globalization;
using Xunit;

namespace EchoToThickness.EndToEnd.Tests;

/// <summary>
/// The default procedure on the full-wave reference stacks (testdata/fullwave: elastodynamic simulations with exactly known wall). The limits are
/// requirements, not what passes: no gross error, at most 2 % missing, and on flat steps |bias| of 0.005 mm and RMSE of 0.012 mm.
/// </summary>
public sealed class FullWaveTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("ett-fullwave").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [InlineData("C1_dev.h5")] // flat steps
    [InlineData("C1CLIP_dev.h5")] // saturated interface echo
    public void Measure_FlatSteps_MeetsTheRequirement(string name)
    {
        string[] row = Score(name);
        Assert.InRange(double.Parse(row[8], CultureInfo.InvariantCulture), -0.005, 0.005);
        Assert.InRange(double.Parse(row[9], CultureInfo.InvariantCulture), 0, 0.012);
    }

    [Theory]
    [InlineData("C1E_dev.h5")] // across a step edge
    [InlineData("C6_dev.h5")] // painted steel: the wall is metal only
    public void Measure_EdgeAndPaint_HasNoGrossError(string name) => Score(name);

    /// <summary>Measures on two threads and on one, which must agree, and scores; cells of the table row.</summary>
    private string[] Score(string name)
    {
        string stack = Repository.File("testdata", "fullwave", name);
        string layout = Repository.File("testdata", "layouts", "fullwave.toml");
        string[] grids = [Path.Combine(_folder, "one.h5"), Path.Combine(_folder, "two.h5")];
        for (int i = 0; i < 2; i++)
        {
            Run run = Run.Of("measure", stack, "-l", layout, "-o", grids[i], "-q", "--threads", i == 0 ? "1" : "2");
            Assert.True(run.Code == 0, run.Words);
        }
        Assert.Equal(File.ReadAllBytes(grids[0]), File.ReadAllBytes(grids[1]));
        Run score = Run.Of([
            "score",
            grids[0],
            stack,
            "-l",
            layout,
            "--allow-gross",
            "0",
            "--allow-missing",
            "2",
            "--no-heading",
        ]);
        Assert.True(score.Code == 0, score.Data + score.Words);
        return score.Data.Split('|', StringSplitOptions.TrimEntries);
    }
}
