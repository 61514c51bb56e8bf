using System.Text;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Hdf5;
using EchoToThickness.Storage.Native;
using Xunit;

namespace EchoToThickness.Storage.Tests.Native;

public sealed class StackFileTests
{
    public static TheoryData<SampleType, StackPacking, int> Kinds()
    {
        TheoryData<SampleType, StackPacking, int> data = [];
        foreach (SampleType type in Enum.GetValues<SampleType>())
        {
            foreach (StackPacking packing in Enum.GetValues<StackPacking>())
            {
                data.Add(type, packing, 1);
                data.Add(type, packing, 3);
            }
        }
        return data;
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void A_written_stack_reads_back_bit_for_bit_on_both_paths(
        SampleType type,
        StackPacking packing,
        int scansPerChunk
    )
    {
        using TemporaryFolder folder = new();
        string path = folder.File("stack.h5");
        StackInfo info = Stacks.Info(type);
        Stacks.Write(
            path,
            info,
            new()
            {
                Packing = packing,
                ScansPerChunk = scansPerChunk,
                FlushToDisk = false,
            },
            "line"
        );
        using StackFile file = StackFile.Open(path);
        StackLine line = file.Line("line");
        Assert.Equal(packing == StackPacking.Contiguous ? 1 : scansPerChunk, line.ScansPerRead);
        Assert.Equal(packing != StackPacking.Contiguous, line.IsChecksummed);
        byte[] all = Stacks.Samples(info);
        byte[] present = Stacks.Present(info);
        foreach (IAScanReader opened in new[] { line.OpenReader(), line.OpenLibraryReader() })
        {
            using IAScanReader reader = opened;
            for (int scan = 0; scan < 7; scan += 2)
            {
                int count = Math.Min(2, 7 - scan);
                AScanBlock block = reader.Lend(scan, count, 3, 6);
                for (int s = 0; s < count; s++)
                for (int b = 0; b < 6; b++)
                {
                    int cell = (scan + s) * 11 + 3 + b;
                    Assert.True(
                        block.AScanBytes(s, b).SequenceEqual(all.AsSpan(cell * info.AScanBytes, info.AScanBytes))
                    );
                    Assert.Equal(present[cell] != 0, block.IsPresent(s, b));
                }
            }
            AScanBlock whole = reader.Lend(0, 7, 0, 11);
            Assert.True(whole.Bytes.SequenceEqual(all));
        }
    }

    [Fact]
    public void Facts_positions_and_truth_read_back()
    {
        using TemporaryFolder folder = new();
        string path = folder.File("stack.h5");
        StackInfo info = Stacks.Info();
        Stacks.Write(path, info, new() { FlushToDisk = false }, "pass-2", "pass-1");
        Assert.True(StackFile.IsStack(path));
        using StackFile file = StackFile.Open(path);
        Assert.Equal(["pass-1", "pass-2"], file.LineNames);
        Assert.Equal("1.0", file.FormatVersion);
        StackLine line = file.Line("pass-1");
        Assert.Equal($"{path}:pass-1", line.Info.Name);
        Assert.Equal(info.Shape, line.Info.Shape);
        Assert.Equal(info.TimeBase.BeamStartSeconds, line.Info.TimeBase.BeamStartSeconds);
        Assert.Equal(info.TimeBase.SampleRateHz, line.Info.TimeBase.SampleRateHz);
        Assert.Equal(info.TimeBase.StartSeconds, line.Info.TimeBase.StartSeconds);
        Assert.Equal(info.Amplitude, line.Info.Amplitude);
        Assert.Equal(info.Acquisition, line.Info.Acquisition);
        Assert.Equal(info.Component, line.Info.Component);
        Assert.Equal(info.Neighbours, line.Info.Neighbours);
        Assert.Equal(info.ScanPositionsMetres, line.Info.ScanPositionsMetres);
        Assert.Equal(info.IndexPositionsMetres, line.Info.IndexPositionsMetres);
        Assert.Equal(["thickness"], line.TruthLayers);
        double[] truth = new double[2 * 11];
        line.ReadTruth("thickness", 3, 2, truth);
        Assert.Equal(Stacks.Truth(info)[33..55], truth);
    }

    [Fact]
    public void A_newer_major_version_is_refused_by_name()
    {
        using TemporaryFolder folder = new();
        string path = folder.File("stack.h5");
        Stacks.Write(path, Stacks.Info(), new() { FlushToDisk = false }, "line");
        byte[] bytes = File.ReadAllBytes(path);
        // Version text and checksum of the header that holds it are rewritten, as a future program would.
        int version = bytes.AsSpan().IndexOf("1.0"u8);
        bytes[version] = (byte)'2';
        int header = bytes.AsSpan(0, version).LastIndexOf("OHDR"u8);
        int length = 10 + BitConverter.ToInt32(bytes, header + 6);
        uint checksum = Hdf5Checksums.Lookup3(bytes.AsSpan(header, length));
        BitConverter.TryWriteBytes(bytes.AsSpan(header + length), checksum);
        File.WriteAllBytes(path, bytes);
        StackFormatException e = Assert.Throws<StackFormatException>(() => StackFile.Open(path));
        Assert.Contains("version 2.0 of the stack format", e.What, StringComparison.Ordinal);
        Assert.Contains("newer version of EchoToThickness", e.Remedy, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(new[] { 0.0, 1e-3, 2e-3, 1.5e-3, 3e-3 }, "backwards at position 3")]
    [InlineData(new[] { 3e-3, 2e-3, 2.5e-3, 1e-3, 0.0 }, "backwards at position 2")]
    [InlineData(new[] { 0.0, 1e-3, 1e-3, 2e-3, 3e-3 }, "Positions 1 and 2 are the same")]
    public void Positions_that_turn_or_repeat_are_named(double[] positions, string expected)
    {
        StackFormatException e = Assert.Throws<StackFormatException>(() =>
            PositionRules.Monotonic(positions, "f.h5", "/lines/a/scan_position")
        );
        Assert.Contains(expected, e.What, StringComparison.Ordinal);
        PositionRules.Monotonic([3e-3, 2e-3, 1e-3], "f.h5", "falling is fine");
    }

    [Fact]
    public void Files_that_are_no_stack_get_a_reason()
    {
        using TemporaryFolder folder = new();
        File.WriteAllText(folder.File("text.h5"), "not an HDF5 file at all");
        File.WriteAllBytes(folder.File("empty.h5"), []);
        Assert.Contains("signature", Error(folder.File("text.h5")).What, StringComparison.Ordinal);
        Assert.Contains("empty", Error(folder.File("empty.h5")).What, StringComparison.Ordinal);
        Assert.Contains("cannot be opened", Error(folder.File("absent.h5")).What, StringComparison.Ordinal);
        Assert.Contains("cannot be opened", Error(folder.Path).What, StringComparison.Ordinal);
        StackFormatException foreign = Error(Hdf5.Fixtures.Path("types.h5"));
        Assert.Contains("layout map", foreign.Remedy, StringComparison.Ordinal);

        static StackFormatException Error(string path) =>
            Assert.Throws<StackFormatException>(() => StackFile.Open(path));
    }

    [Fact]
    public void An_interrupted_write_leaves_the_old_file_and_nothing_else()
    {
        using TemporaryFolder folder = new();
        string path = folder.File("stack.h5");
        File.WriteAllText(path, "the old file");
        StackInfo info = Stacks.Info();
        using (StackWriter writer = StackWriter.Create(path))
        {
            StackLineWriter line = writer.AddLine("line", info);
            line.Write(Stacks.Samples(info).AsSpan(0, 2 * 11 * info.AScanBytes));
            Assert.Throws<InvalidOperationException>(writer.Complete);
        }
        Assert.Equal("the old file", File.ReadAllText(path));
        Assert.Single(Directory.GetFiles(folder.Path));
    }

    [Fact]
    public void The_same_samples_give_the_same_bytes()
    {
        using TemporaryFolder folder = new();
        Stacks.Write(folder.File("a.h5"), Stacks.Info(), new() { ScansPerChunk = 3 }, "line");
        Stacks.Write(folder.File("b.h5"), Stacks.Info(), new() { ScansPerChunk = 3 }, "line");
        Assert.Equal(File.ReadAllBytes(folder.File("a.h5")), File.ReadAllBytes(folder.File("b.h5")));
    }

    [Fact]
    public void Lending_contiguous_and_unfiltered_data_allocates_nothing()
    {
        using TemporaryFolder folder = new();
        StackInfo info = Stacks.Info(scans: 64);
        string path = folder.File("stack.h5");
        using (StackWriter writer = StackWriter.Create(path, new() { Packing = StackPacking.Contiguous }))
        {
            writer.AddLine("line", info).Write(Stacks.Samples(info));
            writer.Complete();
        }
        using StackFile file = StackFile.Open(path);
        using IAScanReader reader = file.Line("line").OpenReader();
        reader.Lend(0, 8, 0, 11);
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int scan = 0; scan < 64; scan += 8)
        {
            reader.Lend(scan, 8, 0, 11);
            reader.Lend(scan, 8, 2, 5);
        }
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    [Fact]
    public void Writing_and_reading_300_MB_holds_one_chunk()
    {
        using TemporaryFolder folder = new();
        const int Scans = 600;
        StackInfo info = Stacks.Info(scans: Scans, beams: 256, samples: 1000) with { ScanPositionsMetres = null };
        byte[] row = new byte[256 * info.AScanBytes];
        string path = folder.File("stack.h5");
        long before = GC.GetAllocatedBytesForCurrentThread();
        using (
            StackWriter writer = StackWriter.Create(
                path,
                new() { Packing = StackPacking.Checksum, FlushToDisk = false }
            )
        )
        {
            StackLineWriter line = writer.AddLine("line", info);
            for (int scan = 0; scan < Scans; scan++)
            {
                row[scan % row.Length] = (byte)scan;
                line.Write(row);
            }
            writer.Complete();
        }
        long written = GC.GetAllocatedBytesForCurrentThread() - before;
        Assert.InRange(new FileInfo(path).Length, 307_000_000, 308_000_000);
        Assert.True(written < 8 << 20, $"{written} bytes were allocated to write 307 MB.");
        before = GC.GetAllocatedBytesForCurrentThread();
        using (StackFile file = StackFile.Open(path))
        {
            using IAScanReader reader = file.Line("line").OpenReader();
            for (int scan = 0; scan < Scans; scan++)
                Assert.Equal((byte)scan, reader.Lend(scan, 1, 0, 256).Bytes[scan]);
        }
        long read = GC.GetAllocatedBytesForCurrentThread() - before;
        Assert.True(read < 8 << 20, $"{read} bytes were allocated to read 307 MB.");
    }
}
