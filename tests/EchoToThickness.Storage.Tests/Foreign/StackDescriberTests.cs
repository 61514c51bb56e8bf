using EchoToThickness.Stacks;
using EchoToThickness.Stacks.Sanity;
using EchoToThickness.Storage.Describe;
using EchoToThickness.Storage.Foreign;
using EchoToThickness.Storage.Layouts;
using Xunit;
using static EchoToThickness.Storage.Tests.Foreign.ForeignFixtures;

namespace EchoToThickness.Storage.Tests.Foreign;

/// <summary>What is said of files, and whether the proposed maps read them as the hand-written ones do.</summary>
public sealed class StackDescriberTests
{
    private static StackDescription Describe(string path, string? layout = null) =>
        StackDescriber.Describe(path, layout, TestContext.Current.CancellationToken);

    [Theory]
    [InlineData("C1_dev")]
    [InlineData("C4_dev")]
    [InlineData("C6_dev")]
    [InlineData("C7B_dev")]
    public void Describe_FullWave_ProposalAgreesWithTheShippedMap(string stack)
    {
        StackDescription description = Describe(FullWave(stack));
        Assert.Empty(description.Problems);
        DescribedLine line = Assert.Single(description.Lines);
        using IAScanSource source = StackOpener.Open(FullWave(stack), Layout("fullwave"))[0].Source;
        Assert.Equal(source.Info.Shape, line.Info.Shape);
        Assert.Equal(source.Info.TimeBase, line.Info.TimeBase);
        Assert.Equal(source.Info.Acquisition.FrequencyHz, line.Info.Acquisition.FrequencyHz);
        Assert.Equal(source.Info.Acquisition.VelocityMetresPerSecond, line.Info.Acquisition.VelocityMetresPerSecond);
        Assert.Equal(
            source.Info.Acquisition.ShearVelocityMetresPerSecond,
            line.Info.Acquisition.ShearVelocityMetresPerSecond
        );
        Assert.Equal(
            source.Info.Acquisition.CouplantVelocityMetresPerSecond,
            line.Info.Acquisition.CouplantVelocityMetresPerSecond
        );
        Assert.Equal(source.Info.ScanPositionsMetres, line.Info.ScanPositionsMetres);
        Assert.Equal(source.Info.IndexPositionsMetres, line.Info.IndexPositionsMetres);
        Assert.Equal(((ITruthSource)source).TruthLayers, line.TruthLayers);
        Assert.Contains(description.Objects, o => o.Path == "/ascans" && o.Shape!.Count == 3);
        Assert.False(description.HasFaults);
    }

    // C1 holds unrelated cells (its README); C1E and C4 beams side by side on one geometry, at separate positions.
    [Theory]
    [InlineData("C1_dev", "none")]
    [InlineData("C1E_dev", "beam")]
    [InlineData("C4_dev", "beam")]
    public void Describe_JumpingInterface_ProposesNoNeighbours(string stack, string neighbours) =>
        Assert.Contains(
            $"neighbours = \"{neighbours}\" # the interface jumps",
            Describe(FullWave(stack)).ProposedLayout!,
            StringComparison.Ordinal
        );

    [Fact]
    public void Describe_EmptyFile_IsNamedAsSuch()
    {
        string path = Path.Combine(Path.GetTempPath(), $"ett-empty-{Guid.NewGuid():n}.h5");
        File.WriteAllBytes(path, []);
        try
        {
            StackFormatException error = Assert.Throws<StackFormatException>(() => Describe(path));
            Assert.Contains("empty (0 bytes)", error.Message, StringComparison.Ordinal);
        }
        finally
        {
            File.Delete(path);
        }
    }

    [Fact]
    public void Describe_UserBlock_FindsFactsInTradeUnits()
    {
        StackDescription description = Describe(At("user_block.h5"));
        StackInfo info = Assert.Single(description.Lines).Info;
        Assert.Equal(new StackShape(5, 4, 64), info.Shape);
        Assert.Equal(100e6, info.TimeBase.SampleRateHz);
        Assert.Equal(1.5e-6, info.TimeBase.StartSeconds);
        Assert.Equal(7.5e6, info.Acquisition.FrequencyHz);
        Assert.Contains("# missing: velocity", description.ProposedLayout!, StringComparison.Ordinal);
        Assert.Contains(
            "velocity in the metal",
            string.Join(";", description.Lines[0].Missing),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void Describe_SampleFirst_ProposesTheAxesAndSaysThatTheRateIsMissing()
    {
        StackDescription description = Describe(At("sample_first.h5"));
        Assert.Contains(
            "axes = [\"sample\", \"beam\", \"scan\"]",
            description.ProposedLayout!,
            StringComparison.Ordinal
        );
        Assert.Contains("# missing: sample_rate", description.ProposedLayout!, StringComparison.Ordinal);
        Assert.Contains("assume 100 MHz", Assert.Single(description.Problems), StringComparison.Ordinal);
        Assert.True(description.HasFaults);
        // As proposed, the map is refused until somebody states the rate.
        Assert.Throws<Procedures.ProcedureException>(() => LayoutFile.Parse(description.ProposedLayout!, "p.toml"));
    }

    [Fact]
    public void Describe_CellsWithRepeatedEncoder_ProposesCells()
    {
        StackDescription description = Describe(At("cells.h5"));
        Assert.Contains("axes = [\"cell\", \"sample\"]", description.ProposedLayout!, StringComparison.Ordinal);
        Assert.Contains("beams = 4", description.ProposedLayout!, StringComparison.Ordinal);
        Assert.Contains(
            "present = { dataset = \"/scan/recorded\" }",
            description.ProposedLayout!,
            StringComparison.Ordinal
        );
        Assert.Equal(new StackShape(5, 4, 64), Assert.Single(description.Lines).Info.Shape);
    }

    [Fact]
    public void Describe_Groups_OneLineEach()
    {
        StackDescription description = Describe(At("lines.h5"));
        Assert.Equal(["pass1", "pass2"], description.Lines.Select(l => l.Name));
        Assert.Equal(43.5, description.Lines[1].Info.Acquisition.GainDecibels);
    }

    [Theory]
    [InlineData("fortran_int16_big.npy")]
    [InlineData("big_endian.raw")]
    [InlineData("positions")]
    [InlineData("objects.npy")]
    [InlineData("small.h5")]
    public void Describe_Other_SaysWhatIsMissingWithin80Columns(string file)
    {
        StackDescription description;
        try
        {
            description = Describe(At(file));
        }
        catch (StackFormatException e) when (file == "objects.npy")
        {
            Assert.Contains("Python objects", e.Message, StringComparison.Ordinal);
            return;
        }
        Assert.NotEmpty(description.Problems);
        Assert.Contains("# missing: sample_rate", description.ProposedLayout!, StringComparison.Ordinal);
        AssertNarrow(description);
    }

    [Fact]
    public void Render_FullWave_80ColumnsAndNothingSuspect()
    {
        StackDescription description = Describe(FullWave("C4_dev"), Layout("fullwave"));
        Assert.Null(description.ProposedLayout);
        string text = DescriptionText.Render(description);
        Assert.Contains("Nothing suspect.", text, StringComparison.Ordinal);
        Assert.Contains("11 scan x 16 beam x 1370 sample", text, StringComparison.Ordinal);
        Assert.Contains("radio frequency", text, StringComparison.Ordinal);
        AssertNarrow(description);
    }

    [Fact]
    public void Describe_Saturated_NamesIt()
    {
        StackDescription description = Describe(FullWave("C1CLIP_dev"));
        SanityFinding finding = Assert.Single(description.Lines[0].Sanity.Findings);
        Assert.Equal(SanityCheck.Saturated, finding.Check);
        Assert.Contains(
            "Warning: 100 % of the A-scans stay at a rail",
            DescriptionText.Render(description),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void Import_Foreign_NativeStackHoldsTheSame()
    {
        string path = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName() + ".h5");
        var lines = StackOpener.Open(FullWave("C6_dev"), Layout("fullwave"));
        List<ImportProgress> seen = [];
        StackImporter.Import(lines, path, null, new Direct(seen.Add), TestContext.Current.CancellationToken);
        Assert.Equal(new ImportProgress(2, 2), seen[^1]);
        (string name, IAScanSource native) = Assert.Single(StackOpener.Open(path));
        Assert.Equal("", name);
        IAScanSource foreign = lines[0].Source;
        Assert.Equal(ReadAll<short>(foreign), ReadAll<short>(native));
        Assert.Equal(foreign.Info.TimeBase, native.Info.TimeBase);
        Assert.Equal(foreign.Info.Acquisition, native.Info.Acquisition);
        Assert.Equal(foreign.Info.Neighbours, native.Info.Neighbours);
        Assert.Equal(foreign.Info.ScanPositionsMetres, native.Info.ScanPositionsMetres);
        foreach (string layer in ((ITruthSource)foreign).TruthLayers)
        {
            double[] one = new double[12];
            double[] two = new double[12];
            ((ITruthSource)foreign).ReadTruth(layer, 0, 2, one);
            ((ITruthSource)native).ReadTruth(layer, 0, 2, two);
            Assert.Equal(one, two);
        }
        StackDescription description = Describe(path);
        Assert.True(description.IsNative);
        Assert.Empty(description.Problems);
        Assert.Null(description.ProposedLayout);
        foreign.Dispose();
        native.Dispose();
        File.Delete(path);
    }

    [Fact]
    public void Import_LinesAndMask_Kept()
    {
        string path = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName() + ".h5");
        const string map =
            "[samples]\ndataset = \"/scan/raw\"\naxes = [\"cell\", \"sample\"]\nbeams = 4\npresent = { dataset = \"/scan/recorded\" }\n[time]\nsample_rate = { value = \"100 MHz\" }";
        var lines = Open(At("cells.h5"), map);
        StackImporter.Import(
            [("a", lines[0].Source), ("b", lines[0].Source)],
            path,
            cancellation: TestContext.Current.CancellationToken
        );
        var back = StackOpener.Open(path);
        Assert.Equal(["a", "b"], back.Select(l => l.Line));
        foreach ((_, IAScanSource source) in back)
        {
            Assert.Equal(Expected(v => (ushort)(v + 32768)), ReadAll<ushort>(source));
            using IAScanReader reader = source.OpenReader();
            AScanBlock block = reader.Lend(0, 5, 0, 4);
            Assert.False(block.IsPresent(0, 3));
            Assert.False(block.IsPresent(2, 1));
            Assert.True(block.IsPresent(2, 2));
        }
        foreach ((_, IAScanSource source) in back)
            source.Dispose();
        lines[0].Source.Dispose();
        File.Delete(path);
    }

    [Fact]
    public void Import_Cancelled_LeavesTheOldFile()
    {
        string path = Path.GetTempFileName();
        File.WriteAllText(path, "old");
        var lines = StackOpener.Open(FullWave("C4_dev"), Layout("fullwave"));
        using CancellationTokenSource source = new();
        source.Cancel();
        Assert.Throws<OperationCanceledException>(() => StackImporter.Import(lines, path, cancellation: source.Token));
        Assert.Equal("old", File.ReadAllText(path));
        Assert.Single(Directory.EnumerateFiles(Path.GetDirectoryName(path)!, Path.GetFileName(path) + "*"));
        lines[0].Source.Dispose();
        File.Delete(path);
    }

    [Fact]
    public void Open_EncoderBackwardsOrRepeated_TypedError()
    {
        // 0, 40, 80 counts for 4 cells each: taken as scan positions they repeat.
        const string map =
            "[samples]\ndataset = \"/scan/raw\"\naxes = [\"scan\", \"sample\"]\n[time]\nsample_rate = { value = \"100 MHz\" }\n[positions]\nscan = { dataset = \"/scan/encoder_counts\", scale = 0.05, unit = \"mm\" }";
        StackFormatException e = Assert.Throws<StackFormatException>(() => Open(At("cells.h5"), map));
        Assert.Contains("Positions 0 and 1 are the same", e.Message, StringComparison.Ordinal);
        Assert.Contains("positions.scan in map.toml(7,1)", e.Message, StringComparison.Ordinal);
    }

    private static void AssertNarrow(StackDescription description)
    {
        string text = DescriptionText.Render(description with { ProposedLayout = null, Path = "stack" });
        foreach (string line in text.Split('\n'))
            Assert.True(line.Length <= 80 || !line.Trim().Contains(' ', StringComparison.Ordinal), line);
    }

    private sealed class Direct(Action<ImportProgress> report) : IProgress<ImportProgress>
    {
        public void Report(ImportProgress value) => report(value);
    }
}
