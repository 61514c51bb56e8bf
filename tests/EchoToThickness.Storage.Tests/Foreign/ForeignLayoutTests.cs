using EchoToThickness.Stacks;
using Xunit;
using static EchoToThickness.Storage.Tests.Foreign.ForeignFixtures;

namespace EchoToThickness.Storage.Tests.Foreign;

/// <summary>Four foreign HDF5 layouts written by h5py; expected samples from the formula both sides share.</summary>
public sealed class ForeignLayoutTests
{
    private const string UserBlock = """
        [samples]
        dataset = "/export/waves"
        [time]
        sample_rate = { attribute = "/export/waves@sampling MHz", unit = "MHz" }
        start = { attribute = "/export/waves@delay us", unit = "us" }
        [positions]
        scan = { dataset = "/export/encoder_mm", unit = "mm" }
        index = { first = "4 mm", step = "-1 mm" }
        [acquisition]
        frequency = { attribute = "@probe" }
        velocity = { value = "5.92 mm/us" }
        elements = { value = "64" }
        [component]
        kind = "pipe"
        outside_diameter = { value = "114.3 mm" }
        [truth]
        thickness = { dataset = "/export/wall_mm", unit = "mm" }
        coating_thickness = { value = "0.3 mm" }
        """;

    private const string SampleFirst = """
        [samples]
        dataset = "data"
        axes = ["sample", "beam", "scan"]
        reversed = ["beam"]
        neighbours = "none"
        [time]
        interval = { value = "10 ns" }
        start = { dataset = "delay", unit = "us" }
        [positions]
        scan = { dataset = "x" }
        index = { dataset = "y" }
        [truth]
        thickness = { dataset = "wall", unit = "in" }
        """;

    private const string Cells = """
        [samples]
        dataset = "/scan/raw"
        axes = ["cell", "sample"]
        beams = 4
        present = { dataset = "/scan/recorded" }
        [time]
        axis = { dataset = "/scan/time", unit = "us" }
        [positions]
        scan = { dataset = "/scan/encoder_counts", scale = 0.05, unit = "mm" }
        """;

    private const string Lines = """
        groups = ["/pass1", "/pass2"]
        [samples]
        dataset = "rf"
        axes = ["beam", "single", "scan", "sample"]
        invert = true
        full_scale = 250
        [time]
        interval = { attribute = "@dt", unit = "s" }
        [acquisition]
        gain = { attribute = "@gain", unit = "dB" }
        """;

    [Fact]
    public void Open_UserBlock_SamplesBitEqualAndFactsInSi()
    {
        using IAScanSource source = OpenOne(At("user_block.h5"), UserBlock);
        Assert.Equal(new StackShape(5, 4, 64), source.Info.Shape);
        Assert.Equal(Expected(v => (short)v), ReadAll<short>(source));
        AssertEveryRectangle<short>(source);
        Assert.Equal(100e6, source.Info.TimeBase.SampleRateHz);
        Assert.Equal(1.5e-6, source.Info.TimeBase.StartSeconds);
        Assert.Equal(7.5e6, source.Info.Acquisition.FrequencyHz);
        Assert.Equal(5920, source.Info.Acquisition.VelocityMetresPerSecond);
        Assert.Equal(64, source.Info.Acquisition.Elements);
        Assert.Null(source.Info.Acquisition.GainDecibels);
        Assert.Equal(ComponentKind.Pipe, source.Info.Component.Kind);
        Assert.Equal(0.1143, source.Info.Component.OutsideDiameterMetres);
        Assert.Equal(NeighbourAxes.Both, source.Info.Neighbours);
        // One multiplication by 1e-3: within one unit in the last place.
        Assert.Equal([0, 0.002, 0.004, 0.006, 0.008], source.Info.ScanPositionsMetres!, new Near(1e-18));
        Assert.Equal([0.004, 0.003, 0.002, 0.001], source.Info.IndexPositionsMetres!, new Near(1e-18));
    }

    [Fact]
    public void ReadTruth_DatasetAndConstant_InMetres()
    {
        using IAScanSource source = OpenOne(At("user_block.h5"), UserBlock);
        ITruthSource truth = (ITruthSource)source;
        Assert.Equal(["thickness", "coating_thickness"], truth.TruthLayers);
        double[] wall = new double[8];
        truth.ReadTruth("thickness", 2, 2, wall);
        Assert.Equal([6.20e-3, 6.21e-3, 6.22e-3, 6.23e-3, 6.30e-3, 6.31e-3, 6.32e-3, 6.33e-3], wall, new Near(1e-15));
        truth.ReadTruth("coating_thickness", 0, 2, wall);
        Assert.All(wall, w => Assert.Equal(0.3e-3, w));
        Assert.Throws<ArgumentException>(() => truth.ReadTruth("reflector_depth", 0, 1, new double[4]));
    }

    [Fact]
    public void Open_SampleFirstBeamsReversed_SamplesBitEqual()
    {
        using IAScanSource source = OpenOne(At("sample_first.h5"), SampleFirst);
        Assert.Equal(Expected(v => (short)v), ReadAll<short>(source));
        AssertEveryRectangle<short>(source);
        // Stored last beam first, like the samples: delays 1.75, 1.5, 1.25, 1.0 us and y 3, 2, 1, 0 mm turn round.
        Assert.Equal([1.0e-6, 1.25e-6, 1.5e-6, 1.75e-6], source.Info.TimeBase.BeamStartSeconds!, new Near(1e-20));
        Assert.Equal([0, 1e-3, 2e-3, 3e-3], source.Info.IndexPositionsMetres!, new Near(1e-18));
        Assert.Equal([10e-3, 10.5e-3, 11e-3, 11.5e-3, 12e-3], source.Info.ScanPositionsMetres!, new Near(1e-17));
        Assert.Equal(NeighbourAxes.None, source.Info.Neighbours);
        double[] wall = new double[8];
        ((ITruthSource)source).ReadTruth("thickness", 3, 2, wall);
        Assert.Equal([6.30e-3, 6.31e-3, 6.32e-3, 6.33e-3, 6.40e-3, 6.41e-3, 6.42e-3, 6.43e-3], wall, new Near(1e-15));
    }

    [Fact]
    public void Open_CellsBigEndianOffsetBinary_SamplesBitEqualMaskedAndPlaced()
    {
        using IAScanSource source = OpenOne(At("cells.h5"), Cells);
        Assert.Equal(SampleType.UInt16, source.Info.SampleType);
        Assert.Equal(32768, source.Info.Amplitude.ZeroCounts);
        Assert.Equal(Expected(v => (ushort)(v + 32768)), ReadAll<ushort>(source));
        AssertEveryRectangle<ushort>(source);
        // Times were stored as float32: start 0.8 us and interval 10 ns to 1e-7 relative.
        Assert.Equal(0.8e-6, source.Info.TimeBase.StartSeconds, 1e-13);
        Assert.Equal(1e8, source.Info.TimeBase.SampleRateHz, 1e8 * 1e-6);
        // Encoder counts per cell, 0.05 mm each, 40 a scan position.
        Assert.Equal([0, 2e-3, 4e-3, 6e-3, 8e-3], source.Info.ScanPositionsMetres!, new Near(1e-17));
        using IAScanReader reader = source.OpenReader();
        AScanBlock block = reader.Lend(0, 3, 1, 3);
        bool[] present = [.. Enumerable.Range(0, 9).Select(_ => false)];
        for (int scan = 0; scan < 3; scan++)
        for (int beam = 0; beam < 3; beam++)
            present[scan * 3 + beam] = block.IsPresent(scan, beam);
        // Cells 3 (scan 0, beam 3) and 9 (scan 2, beam 1) were not recorded.
        Assert.Equal([true, true, false, true, true, true, false, true, true], present);
    }

    [Fact]
    public void Open_TwoGroupsInverted_TwoLines()
    {
        var lines = Open(At("lines.h5"), Lines);
        Assert.Equal(["pass1", "pass2"], lines.Select(l => l.Line));
        Assert.Equal(Expected(v => v / 4f, 0, 3), ReadAll<float>(lines[0].Source));
        Assert.Equal(Expected(v => v / 4f, 3, 2), ReadAll<float>(lines[1].Source));
        AssertEveryRectangle<float>(lines[0].Source);
        Assert.Equal([42.5, 43.5], lines.Select(l => l.Source.Info.Acquisition.GainDecibels!.Value));
        Assert.All(lines, l => Assert.Equal(250, l.Source.Info.Amplitude.FullScaleCounts));
        Assert.Contains("pass2", lines[1].Source.Info.Name, StringComparison.Ordinal);
        foreach (var (_, source) in lines)
            source.Dispose();
    }

    [Fact]
    public void Open_OneAndTwoAxes_MissingAxesHaveExtentOne()
    {
        const string time = "\n[time]\nsample_rate = { value = \"100 MHz\" }";
        using IAScanSource one = OpenOne(At("small.h5"), "[samples]\ndataset = \"one\"\naxes = [\"sample\"]" + time);
        Assert.Equal(new StackShape(1, 1, 64), one.Info.Shape);
        Assert.Equal(Expected(v => (short)v, scans: 1, beams: 1), ReadAll<short>(one));
        using IAScanSource row = OpenOne(
            At("small.h5"),
            "[samples]\ndataset = \"row_float\"\naxes = [\"beam\", \"sample\"]" + time
        );
        Assert.Equal(new StackShape(1, 4, 64), row.Info.Shape);
        Assert.Equal(Expected(v => (double)v, scans: 1), ReadAll<double>(row));
    }

    [Fact]
    public void Open_Inverted_RailsTurnOverToo()
    {
        const string map =
            "[samples]\ndataset = \"row\"\naxes = [\"beam\", \"sample\"]\ninvert = true\n[time]\ninterval = { value = \"10 ns\" }\npath = \"half\"";
        using IAScanSource source = OpenOne(At("small.h5"), map);
        // -(-128) does not fit into int8 and stays at 127; the upper rail becomes the lower one.
        Assert.Equal(-127, source.Info.Amplitude.MinimumCounts);
        Assert.Equal(127, source.Info.Amplitude.MaximumCounts);
        Assert.Equal(Expected(v => (sbyte)Math.Clamp(-(sbyte)v, -128, 127), scans: 1), ReadAll<sbyte>(source));
        // Half path: 10 ns one way are 20 ns there and back.
        Assert.Equal(50e6, source.Info.TimeBase.SampleRateHz, 1e-6);
    }

    [Fact]
    public void Open_ReversedScanAndSample_TurnsRound()
    {
        using IAScanSource source = OpenOne(
            At("user_block.h5"),
            "[samples]\ndataset = \"/export/waves\"\nreversed = [\"scan\", \"sample\"]\n[time]\nsample_rate = { value = \"100 MHz\" }"
        );
        short[] all = ReadAll<short>(source);
        for (int scan = 0; scan < Scans; scan++)
        for (int sample = 0; sample < Samples; sample++)
            Assert.Equal(Value(4 - scan, 2, 63 - sample), all[(scan * Beams + 2) * Samples + sample]);
        AssertEveryRectangle<short>(source);
    }

    /// <summary>Absolute tolerance for sequences.</summary>
    private sealed class Near(double tolerance) : IEqualityComparer<double>
    {
        public bool Equals(double x, double y) => Math.Abs(x - y) <= tolerance;

        public int GetHashCode(double x) => 0;
    }
}
