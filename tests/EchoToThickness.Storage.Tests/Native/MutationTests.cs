using System.Diagnostics;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Grids;
using EchoToThickness.Storage.Hdf5;
using EchoToThickness.Storage.Native;
using EchoToThickness.Storage.Tests.Hdf5;
using Xunit;

namespace EchoToThickness.Storage.Tests.Native;

/// <summary>
/// Damaged files: single bits, bytes, runs and truncations at seeded random places. Every case is opened and read whole
/// under a limit of time and allocation; the outcome is a typed error or, for files with checksums, exactly the right answer.
/// </summary>
public sealed class MutationTests
{
    private const int Seed = 20261125;

    [Theory]
    [InlineData(StackPacking.Deflate, 2500)]
    [InlineData(StackPacking.Checksum, 1500)]
    public void A_damaged_stack_gives_an_error_or_the_right_answer(StackPacking packing, int cases)
    {
        using TemporaryFolder folder = new();
        string path = folder.File("stack.h5");
        Stacks.Write(
            path,
            Stacks.Info(),
            new()
            {
                Packing = packing,
                ScansPerChunk = 3,
                FlushToDisk = false,
            },
            "line"
        );
        byte[] sound = File.ReadAllBytes(path);
        string expected = ReadStack(path);
        int refused = Run(sound, cases, folder.File("damaged.h5"), ReadStack, expected);
        // Unused bytes are few: alignment, and the rows of the last chunk beyond the extent are checksummed too.
        Assert.True(refused > cases * 95 / 100, $"Only {refused} of {cases} damaged files were refused.");
    }

    [Theory]
    [InlineData("layouts-old.h5", 700)]
    [InlineData("layouts-latest.h5", 700)]
    [InlineData("structure-old.h5", 700)]
    [InlineData("structure-latest.h5", 700)]
    [InlineData("types.h5", 400)]
    public void A_damaged_foreign_file_never_crashes_hangs_or_exhausts_memory(string file, int cases)
    {
        using TemporaryFolder folder = new();
        byte[] sound = File.ReadAllBytes(Fixtures.Path(file));
        Run(sound, cases, folder.File("damaged.h5"), ReadEverything, expected: null);
    }

    [Fact]
    public void A_damaged_grid_never_crashes()
    {
        using TemporaryFolder folder = new();
        string path = folder.File("grid.h5");
        using (GridFileWriter writer = new(path, flushToDisk: false))
        {
            writer.Begin(Tests.Grids.GridFileTests.Header([EchoToThickness.Grids.GridLayer.Thickness]));
            writer.Complete(Tests.Grids.GridFileTests.Summary());
        }
        Run(File.ReadAllBytes(path), 500, folder.File("damaged.h5"), ReadGrid, expected: null);
    }

    private static int Run(byte[] sound, int cases, string path, Func<string, string> read, string? expected)
    {
        Random random = new(Seed);
        int refused = 0;
        for (int i = 0; i < cases; i++)
        {
            (byte[] damaged, string how) = Damage(sound, random);
            File.WriteAllBytes(path, damaged);
            long before = GC.GetAllocatedBytesForCurrentThread();
            long started = Stopwatch.GetTimestamp();
            try
            {
                string answer = read(path);
                if (expected is not null)
                    Assert.True(answer == expected, $"Case {i} ({how}): a wrong answer without an error.");
            }
            catch (StackFormatException e)
            {
                refused++;
                Assert.Equal(path, e.File);
                Assert.NotEmpty(e.Remedy);
            }
            double seconds = Stopwatch.GetElapsedTime(started).TotalSeconds;
            long allocated = GC.GetAllocatedBytesForCurrentThread() - before;
            Assert.True(seconds < 5, $"Case {i} ({how}) took {seconds:F1} s.");
            Assert.True(allocated < 256L << 20, $"Case {i} ({how}) allocated {allocated} bytes.");
        }
        return refused;
    }

    private static (byte[] Bytes, string How) Damage(byte[] sound, Random random)
    {
        byte[] bytes = (byte[])sound.Clone();
        int at = random.Next(bytes.Length);
        int kind = random.Next(6);
        int run = Math.Min(1 + random.Next(64), bytes.Length - at);
        switch (kind)
        {
            case 0:
                bytes[at] ^= (byte)(1 << random.Next(8));
                break;
            case 1:
                bytes[at] = (byte)(bytes[at] + 1 + random.Next(255));
                break;
            case 2:
                bytes.AsSpan(at, run).Fill(0xff);
                break;
            case 3:
                bytes.AsSpan(at, run).Clear();
                break;
            case 4:
                random.NextBytes(bytes.AsSpan(at, run));
                break;
            default:
                return (bytes[..at], $"truncated at {at}");
        }
        return (bytes, $"kind {kind} at {at}, run {run}");
    }

    private static string ReadStack(string path)
    {
        using StackFile file = StackFile.Open(path);
        HashCode hash = default;
        foreach (string name in file.LineNames)
        {
            StackLine line = file.Line(name);
            StackInfo info = line.Info;
            hash.Add(name);
            hash.Add(info.Shape);
            hash.Add(info.SampleType);
            hash.Add(info.TimeBase.SampleRateHz);
            hash.Add(info.TimeBase.StartSeconds);
            hash.Add(info.Amplitude);
            hash.Add(info.Acquisition);
            hash.Add(info.Component);
            hash.Add(info.Neighbours);
            foreach (double value in info.TimeBase.BeamStartSeconds ?? [])
                hash.Add(value);
            foreach (double value in info.ScanPositionsMetres ?? [])
                hash.Add(value);
            foreach (double value in info.IndexPositionsMetres ?? [])
                hash.Add(value);
            using IAScanReader reader = line.OpenReader();
            for (int scan = 0; scan < info.Shape.Scans; scan++)
            {
                AScanBlock block = reader.Lend(scan, 1, 0, info.Shape.Beams);
                hash.AddBytes(block.Bytes);
                hash.AddBytes(block.Present);
            }
            foreach (string layer in line.TruthLayers)
            {
                double[] truth = new double[info.Shape.Cells];
                line.ReadTruth(layer, 0, info.Shape.Scans, truth);
                hash.AddBytes(System.Runtime.InteropServices.MemoryMarshal.AsBytes(truth.AsSpan()));
            }
            foreach (string layer in line.LabelLayers)
            {
                uint[] labels = new uint[info.Shape.Cells];
                line.ReadLabels(layer, 0, info.Shape.Scans, labels);
                hash.AddBytes(System.Runtime.InteropServices.MemoryMarshal.AsBytes(labels.AsSpan()));
                foreach (string bit in line.LabelNames(layer))
                    hash.Add(bit);
            }
        }
        return $"{hash.ToHashCode()}";
    }

    private static string ReadEverything(string path)
    {
        using Hdf5File file = Hdf5File.Open(path);
        Hdf5Contents contents = file.Walk();
        foreach (string group in contents.Groups)
            Values(file.Attributes(group));
        foreach (string name in contents.Datasets)
        {
            Hdf5Dataset dataset = file.Dataset(name);
            Values(dataset.Attributes());
            if (Hdf5Values.IsNumeric(dataset.Type) && dataset.HasFastPath)
                dataset.ReadDoubles();
            else if (Hdf5Values.IsText(dataset.Type))
                dataset.ReadTexts();
        }
        return "";
    }

    private static void Values(IReadOnlyList<Hdf5Attribute> attributes)
    {
        foreach (Hdf5Attribute attribute in attributes)
        {
            if (Hdf5Values.IsNumeric(attribute.Type))
                attribute.ToDoubles();
            else if (Hdf5Values.IsText(attribute.Type))
                attribute.ToTexts();
        }
    }

    private static string ReadGrid(string path)
    {
        using GridFile file = GridFile.Open(path);
        foreach (GridMap map in file.Maps)
        {
            map.ReadStatus();
            if (map.Layers.Contains(EchoToThickness.Grids.GridLayer.Thickness))
                map.ReadFloats(EchoToThickness.Grids.GridLayer.Thickness);
        }
        return "";
    }
}
