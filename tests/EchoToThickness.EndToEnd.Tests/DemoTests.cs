using Xunit;

namespace EchoToThickness.EndToEnd.Tests;

public sealed class DemoTests
{
    [Fact]
    public void Demo_EmptyFolder_IsFilledAndScored()
    {
        string folder = Directory.CreateTempSubdirectory("ett-demo").FullName;
        try
        {
            Run run = Run.Of("demo", "-o", folder);
            Assert.Equal(0, run.Code);
            string[] names =
            [
                "scene.toml",
                "scan.h5",
                "procedure.toml",
                "grid.h5",
                "grid.csv",
                "thickness.png",
                "uncertainty.png",
                "histogram.png",
                "thinnest.png",
            ];
            Assert.All(names, name => Assert.True(new FileInfo(Path.Combine(folder, name)).Length > 0, name));
            Assert.All(names, name => Assert.Contains(name, run.Data, StringComparison.Ordinal));
            // What it prints next can be typed as it stands.
            string check = Run.Of("procedure", "check", Path.Combine(folder, "procedure.toml")).Data;
            Assert.Contains("can be used", check, StringComparison.Ordinal);
            Run score = Run.Of(
                "score",
                Path.Combine(folder, "grid.h5"),
                Path.Combine(folder, "scan.h5"),
                "--allow-missing",
                "3"
            );
            Assert.Equal(0, score.Code);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
