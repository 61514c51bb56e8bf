using EchoToThickness.Procedures;
using EchoToThickness.Simulation.Scenes;
using Xunit;

namespace EchoToThickness.Simulation.Tests;

public sealed class SceneCatalogTests
{
    public static TheoryData<string> Names() => [.. SceneCatalog.Names];

    [Fact]
    public void Names_AreTheEightScenarios() =>
        Assert.Equal(
            [
                "hard-coupling",
                "large-patch",
                "painted-thin",
                "pit-block",
                "repeat-survey",
                "rough-pipe",
                "step-block",
                "steps-and-pits",
            ],
            SceneCatalog.Names
        );

    [Theory]
    [MemberData(nameof(Names))]
    public void Read_EveryScenario_IsSoundAndDescribed(string name)
    {
        Scene scene = SceneCatalog.Read(name).Value;
        Assert.NotEqual("", scene.Header.Description);
        Assert.Empty(SceneCheck.Findings(scene));
    }

    /// <summary>The two elbow scenarios scale from NPS 4 to 24, every size of the table between them.</summary>
    [Theory]
    [InlineData("steps-and-pits")]
    [InlineData("large-patch")]
    public void OfPipeSize_ElbowScenarios_AreSoundOnEverySize(string name)
    {
        Scene scene = SceneCatalog.Read(name).Value;
        foreach (string size in new[] { "4", "5", "6", "8", "10", "12", "14", "16", "18", "20", "24" })
            Assert.Empty(SceneCheck.Findings(scene.OfPipeSize(size)));
    }
}
