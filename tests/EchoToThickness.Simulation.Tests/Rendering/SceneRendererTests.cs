using EchoToThickness.Procedures;
using EchoToThickness.Simulation.Rendering;
using EchoToThickness.Simulation.Scenes;
using Xunit;

namespace EchoToThickness.Simulation.Tests.Rendering;

public sealed class SceneRendererTests
{
    private const string Pipe = """
        [component]
        kind = "pipe"
        nps = "6"
        schedule = "40"
        length = "60 mm"
        [coupling]
        jitter = "0.05 mm"

        """;

    private const string Rough = "[[wall.roughness]]\nrms = \"0.1 mm\"\ncorrelation_along = \"4 mm\"\n";

    /// <summary>Once the fields of its distances exist, a cell costs no allocation, flat or rough, with grain and spikes.</summary>
    [Theory]
    [InlineData("")]
    [InlineData(Rough)]
    [InlineData(Rough + "[instrument]\ngrain_noise = \"0.5 %\"\nspikes = 0.5\n")]
    [InlineData("[coupling]\n[[coupling.bubble]]\ndensity = 400\n[array]\ndead_elements = [20]\n")]
    public void Render_ScanSeenBefore_AllocatesNothing(string toml)
    {
        string scene = toml.StartsWith("[coupling]", StringComparison.Ordinal)
            ? Pipe.Replace("[coupling]\n", toml.Split("[[")[0], StringComparison.Ordinal)
                + toml["[coupling]\n".Length..]
            : Pipe + toml;
        SceneRenderer renderer = Simulated.Model(scene).CreateRenderer();
        var stored = new byte[renderer.StoredBytes];
        for (int pass = 0; pass < 2; pass++)
            Row();
        long before = GC.GetAllocatedBytesForCurrentThread();
        Row();
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);

        void Row()
        {
            for (int cell = 0; cell < 200; cell++)
                renderer.Render(0, cell % 50, cell % 57, stored);
        }
    }

    /// <summary>A steep slope weakens the echo, but it is not a pit; a pit as wide as the aperture is.</summary>
    [Fact]
    public void Render_SteepSmoothSlope_IsNotLabelledAsPit()
    {
        CellTruth slope = Simulated
            .Cell(
                Simulated.Plate
                    + "[[wall.patch]]\nalong = \"30 mm\"\naround = \"32 mm\"\nlength = \"24 mm\"\nwidth = \"24 mm\"\ndepth = \"6 mm\"\n",
                scan: 20
            )
            .Truth;
        CellTruth pit = Simulated
            .Cell(
                Simulated.Plate
                    + "[[wall.pit]]\nalong = \"30 mm\"\naround = \"32 mm\"\ndiameter = \"9 mm\"\ndepth = \"4 mm\"\n"
            )
            .Truth;
        Assert.False(slope.Planted.HasFlag(PlantedFailure.ScatteredPit));
        Assert.True(pit.Planted.HasFlag(PlantedFailure.ScatteredPit));
    }

    /// <summary>Another scan of the same wall: other noise, the same pits and the same grain.</summary>
    [Fact]
    public void NoiseSeed_Another_SameWallOtherNoise()
    {
        const string Pits = "[[wall.cluster]]\ncount = 12\n";
        string Scene(int noise) => $"[scene]\nnoise_seed = {noise}\n" + Simulated.Plate + Pits;
        Simulated first = Simulated.Cell(Scene(1));
        Simulated second = Simulated.Cell(Scene(2));
        Assert.Equal(first.Truth.ThicknessMetres, second.Truth.ThicknessMetres);
        Assert.Equal(first.Truth.MinimumThicknessMetres, second.Truth.MinimumThicknessMetres);
        Assert.NotEqual(first.Samples, second.Samples);
        Assert.Equal(first.Samples, Simulated.Cell(Simulated.Plate + Pits).Samples);
    }

    /// <summary>A density that would strew 10^13 pits is refused before any is drawn.</summary>
    [Fact]
    public void Compile_DensityBeyondReason_IsRefusedByKey()
    {
        ProcedureException error = Assert.Throws<ProcedureException>(() =>
            Simulated.Model(Simulated.Plate + "[[wall.cluster]]\ndensity = 1e15\n")
        );
        Assert.Equal("wall.cluster[1].density", Assert.Single(error.Findings).Key);
    }

    [Theory]
    [InlineData(null, "cannot be read")]
    [InlineData("0,1\n0.01,2\n", "Only 2 samples")]
    [InlineData("0,0\n1,0\n2,0\n3,0\n4,0\n5,0\n6,0\n7,0\n", "zero")]
    [InlineData("0,0\n1,1\n2,0\n3,0\n4,0\n5,0\n6,0\n9,0\n", "equally spaced")]
    [InlineData("0,0\n1,NaN\n2,0\n3,0\n4,0\n5,0\n6,0\n7,0\n", "not finite")]
    [InlineData("0,0\n1,1\n2,x\n3,0\n4,0\n5,0\n6,0\n7,0\n", "Line 3")]
    public void Compile_PulseFileThatCannotBe_NamesItsKey(string? text, string why)
    {
        string folder = Directory.CreateTempSubdirectory("ett-pulse").FullName;
        try
        {
            if (text is not null)
                File.WriteAllText(Path.Combine(folder, "pulse.csv"), text);
            Scene scene = SceneText
                .Read(Simulated.Plate + "[array]\npulse = \"file\"\npulse_file = \"pulse.csv\"\n", "s.toml")
                .Value;
            ProcedureException error = Assert.Throws<ProcedureException>(() => SceneModel.Compile(scene, folder));
            ProcedureFinding finding = Assert.Single(error.Findings);
            Assert.Equal("array.pulse_file", finding.Key);
            Assert.Contains(why, finding.What, StringComparison.Ordinal);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
