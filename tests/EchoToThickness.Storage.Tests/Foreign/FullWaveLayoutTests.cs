using EchoToThickness.Stacks;
using EchoToThickness.Stacks.Sanity;
using EchoToThickness.Storage.Foreign;
using Xunit;
using static EchoToThickness.Storage.Tests.Foreign.ForeignFixtures;

namespace EchoToThickness.Storage.Tests.Foreign;

/// <summary>The full-wave reference stacks through the shipped layout map.</summary>
public sealed class FullWaveLayoutTests
{
    public static TheoryData<string> Stacks => [.. FullWaveStacks()];

    [Theory]
    [MemberData(nameof(Stacks))]
    public void Open_FullWave_FactsAndTruth(string stack)
    {
        using IAScanSource source = Assert.Single(StackOpener.Open(FullWave(stack), Layout("fullwave"))).Source;
        StackInfo info = source.Info;
        Assert.Equal(SampleType.Int16, info.SampleType);
        // The file's own text tells which cells lie side by side.
        bool related = stack[..stack.IndexOf('_', StringComparison.Ordinal)] is "C1E" or "C2" or "C3" or "C4" or "C7B";
        Assert.Equal(related ? NeighbourAxes.Beam : NeighbourAxes.None, info.Neighbours);
        Assert.Equal(100e6, info.TimeBase.SampleRateHz);
        Assert.Equal(stack.StartsWith("C7D", StringComparison.Ordinal) ? 0.5e-6 : 0.8e-6, info.TimeBase.StartSeconds);
        Assert.Equal(stack[..2] is "C2" or "C3" ? 5e6 : 7e6, info.Acquisition.FrequencyHz);
        Assert.Equal(5920, info.Acquisition.VelocityMetresPerSecond);
        Assert.Equal(3230, info.Acquisition.ShearVelocityMetresPerSecond);
        Assert.Equal(1480, info.Acquisition.CouplantVelocityMetresPerSecond);
        ITruthSource truth = (ITruthSource)source;
        Assert.Contains("thickness", truth.TruthLayers);
        Assert.Equal(stack.StartsWith("C6", StringComparison.Ordinal), truth.TruthLayers.Contains("coating_thickness"));
        Assert.Equal(stack.StartsWith("C7B", StringComparison.Ordinal), truth.TruthLayers.Contains("reflector_depth"));
        double[] wall = new double[info.Shape.Cells];
        truth.ReadTruth("thickness", 0, info.Shape.Scans, wall);
        // The walls of the whole set lie between 1.5 and 12 mm by its description.
        Assert.All(wall, w => Assert.InRange(w, 1.4e-3, 12.1e-3));
    }

    [Theory]
    [InlineData("C1_dev", 8)]
    [InlineData("C4_dev", 4)]
    [InlineData("C6_dev", 6)]
    public void Open_FullWave_ApertureFromConstantElements(string stack, int elements)
    {
        using IAScanSource source = StackOpener.Open(FullWave(stack), Layout("fullwave"))[0].Source;
        Assert.Equal(elements * 1e-3, source.Info.Acquisition.ApertureMetres!.Value, 1e-12);
    }

    [Fact]
    public void Open_FullWave_VaryingElementsStayUnknown()
    {
        using IAScanSource source = StackOpener.Open(FullWave("C5_dev"), Layout("fullwave"))[0].Source;
        Assert.Null(source.Info.Acquisition.ApertureMetres);
        Assert.Equal(0.6, source.Info.Acquisition.BandwidthFraction);
    }

    [Theory]
    [InlineData("/ascans@no_such", "no such attribute")]
    [InlineData("/ascans@t0_s", "not a text")]
    [InlineData("/nowhere@case", "no such object")]
    public void Open_NeighboursFromAnAttributeThatCannotTell_NamesIt(string attribute, string what)
    {
        string map = File.ReadAllText(Layout("fullwave")).Replace("/ascans@case", attribute, StringComparison.Ordinal);
        string path = Path.Combine(Path.GetTempPath(), Guid.NewGuid().ToString("N") + ".toml");
        File.WriteAllText(path, map);
        try
        {
            StackFormatException error = Assert.Throws<StackFormatException>(() =>
                StackOpener.Open(FullWave("C1_dev"), path)
            );
            Assert.Contains(what, error.What, StringComparison.Ordinal);
            Assert.Contains(attribute.Split('@')[1], error.Message, StringComparison.Ordinal);
        }
        finally
        {
            File.Delete(path);
        }
    }

    [Theory]
    [MemberData(nameof(Stacks))]
    public void Inspect_FullWave_NoFalseFlag(string stack)
    {
        using IAScanSource source = StackOpener.Open(FullWave(stack), Layout("fullwave"))[0].Source;
        SanityReport report = SanityInspector.Inspect(source, cancellation: TestContext.Current.CancellationToken);
        // Only the stack with 16 dB more gain is saturated, by its description.
        SanityCheck[] expected = stack == "C1CLIP_dev" ? [SanityCheck.Saturated] : [];
        Assert.Equal(expected, report.Findings.Select(f => f.Check));
        double stated = source.Info.Acquisition.FrequencyHz!.Value;
        // Air and thin walls shift the centre of the echoes, by less than a fifth here.
        Assert.InRange(report.Spectrum!.DominantHz, 0.8 * stated, 1.2 * stated);
        Assert.False(report.LooksRectified);
        Assert.Empty(report.DeadBeams);
    }
}
