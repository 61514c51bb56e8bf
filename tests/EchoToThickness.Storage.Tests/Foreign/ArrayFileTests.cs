using System.Text;
using CsCheck;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Foreign;
using Xunit;
using static EchoToThickness.Storage.Tests.Foreign.ForeignFixtures;

namespace EchoToThickness.Storage.Tests.Foreign;

/// <summary><c>.npy</c> (written by NumPy 1.24), raw files and folders.</summary>
public sealed class ArrayFileTests
{
    private const string Time = "\n[time]\nsample_rate = { value = \"100 MHz\" }\n";
    private const string Raw =
        "[samples]\ntype = \"int16\"\nbyte_order = \"big\"\nheader_bytes = 100\nextent = [5, 4, 64]" + Time;

    [Theory]
    [InlineData("c_int16.npy")]
    [InlineData("fortran_int16_big.npy")]
    public void Open_NpyInt16_SamplesBitEqual(string file)
    {
        using IAScanSource source = OpenOne(At(file), "description = \"npy\"" + Time);
        Assert.Equal(Expected(v => (short)v), ReadAll<short>(source));
        AssertEveryRectangle<short>(source);
    }

    [Fact]
    public void Open_NpyFortranFloat32_SamplesBitEqual()
    {
        using IAScanSource source = OpenOne(At("fortran_float32.npy"), "description = \"npy\"" + Time);
        Assert.Equal(Expected(v => (float)v), ReadAll<float>(source));
        AssertEveryRectangle<float>(source);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void Open_NpyVersion_SamplesBitEqual(int version)
    {
        using IAScanSource source = OpenOne(
            At($"version{version}_float64.npy"),
            "[samples]\naxes = [\"beam\", \"sample\"]" + Time
        );
        Assert.Equal(Expected(v => (double)v, scans: 1), ReadAll<double>(source));
    }

    [Fact]
    public void Open_NpyObjects_RefusedByName()
    {
        StackFormatException e = Assert.Throws<StackFormatException>(() =>
            Open(At("objects.npy"), "[samples]\naxes = [\"sample\"]" + Time)
        );
        Assert.Contains("Python objects", e.Message, StringComparison.Ordinal);
        Assert.Contains("|O", e.Message, StringComparison.Ordinal);
        Assert.Contains("objects.npy", e.File, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("<c16")]
    [InlineData("<i4")]
    [InlineData("|S8")]
    [InlineData("<f2")]
    public void Open_NpyOtherType_RefusedByName(string descr)
    {
        string path = WriteNpy($"{{'descr': '{descr}', 'fortran_order': False, 'shape': (4,), }}", 64);
        StackFormatException e = Assert.Throws<StackFormatException>(() =>
            Open(path, "[samples]\naxes = [\"sample\"]" + Time)
        );
        Assert.Contains(descr, e.Message, StringComparison.Ordinal);
        Assert.Contains("int16", e.Remedy, StringComparison.Ordinal);
        File.Delete(path);
    }

    [Theory]
    [InlineData(
        "{'descr': '<i2', 'fortran_order': False, 'shape': (9223372036854775807, 9223372036854775807), }",
        "do not fit"
    )]
    [InlineData("{'descr': '<i2', 'fortran_order': False, 'shape': (99999999999999999999, 2), }", "not an extent")]
    [InlineData("{'descr': '<i2', 'fortran_order': False, 'shape': (0, 4), }", "extent")]
    [InlineData("{'descr': '<i2', 'fortran_order': False, 'shape': (1000000, 4), }", "do not fit")]
    [InlineData("{'descr': '<i2', 'fortran_order': 7, 'shape': (2, 4), }", "neither True nor False")]
    [InlineData("{'descr': '<i2', 'shape': (2, 4), }", "fortran_order")]
    [InlineData("{'descr': '<i2', 'fortran_order': False, 'shape': (2, 4)", "cannot be read")]
    [InlineData("__import__('os')", "cannot be read")]
    public void Open_NpyBadHeader_TypedError(string header, string expected)
    {
        string path = WriteNpy(header, 64);
        StackFormatException e = Assert.Throws<StackFormatException>(() =>
            Open(path, "[samples]\naxes = [\"beam\", \"sample\"]" + Time)
        );
        Assert.Contains(expected, e.Message, StringComparison.Ordinal);
        Assert.Equal(path, e.File);
        File.Delete(path);
    }

    [Fact]
    public void Open_NpyMutated_SameSamplesOrTypedError()
    {
        byte[] good = File.ReadAllBytes(At("c_int16.npy"));
        string path = Path.GetTempFileName();
        short[] expected = Expected(v => (short)v);
        var map = Map("description = \"npy\"" + Time);
        // 128 bytes of header in NumPy's 64-byte alignment; flips, and cuts anywhere.
        Gen.Select(Gen.Int[0, 127], Gen.Byte, Gen.Int[0, good.Length])
            .Sample(
                (at, value, cut) =>
                {
                    byte[] bad = (byte[])good.Clone();
                    bad[at] = value;
                    if (cut % 5 == 0)
                        bad = bad[..cut];
                    File.WriteAllBytes(path, bad);
                    try
                    {
                        using IAScanSource source = StackOpener.Open(path, map)[0].Source;
                        // What still opens may mean other samples (another type, order or extent), but never more bytes than the file holds.
                        Assert.True(source.Info.Shape.Cells * source.Info.AScanBytes <= bad.Length);
                        ReadAll<byte>(source);
                    }
                    catch (Exception e) when (e is StackFormatException or ProcedureException)
                    {
                        Assert.Contains("To fix:", e.Message, StringComparison.Ordinal);
                    }
                },
                iter: 2000,
                threads: 1
            );
        File.WriteAllBytes(path, good);
        using (IAScanSource source = StackOpener.Open(path, map)[0].Source)
            Assert.Equal(expected, ReadAll<short>(source));
        File.Delete(path);
    }

    [Fact]
    public void Open_RawBigEndianBehindHeader_SamplesBitEqual()
    {
        using IAScanSource source = OpenOne(At("big_endian.raw"), Raw);
        Assert.Equal(Expected(v => (short)v), ReadAll<short>(source));
        AssertEveryRectangle<short>(source);
        using IAScanSource open = OpenOne(
            At("big_endian.raw"),
            Raw.Replace("[5, 4", "[0, 4", StringComparison.Ordinal)
        );
        Assert.Equal(5, open.Info.Shape.Scans);
    }

    [Theory]
    [InlineData("extent = [5, 4, 64]", "extent = [6, 4, 64]", "2560 bytes")]
    [InlineData("extent = [5, 4, 64]", "extent = [0, 4, 63]", "multiple of 504")]
    [InlineData("header_bytes = 100", "header_bytes = 99999", "header of 99999 bytes")]
    [InlineData("extent = [5, 4, 64]", "extent = [2000000000, 2000000000, 2000000000]", "2560 bytes")]
    public void Open_RawExtentWrong_TypedError(string from, string to, string expected)
    {
        StackFormatException e = Assert.Throws<StackFormatException>(() =>
            Open(At("big_endian.raw"), Raw.Replace(from, to, StringComparison.Ordinal))
        );
        Assert.Contains(expected, e.Message, StringComparison.Ordinal);
        Assert.Contains("map.toml(5,", e.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Open_FolderOfScanPositions_NaturalOrder()
    {
        using IAScanSource source = OpenOne(At("positions"), "[samples]\naxes = [\"beam\", \"sample\"]" + Time);
        Assert.Equal(new StackShape(5, 4, 64), source.Info.Shape);
        Assert.Equal(Expected(v => (short)v), ReadAll<short>(source));
        AssertEveryRectangle<short>(source);
    }

    [Fact]
    public void Open_FolderOfLines_OneSourceALine()
    {
        var lines = Open(At("passes"), "[samples]\ntype = \"int16\"\nextent = [0, 4, 64]" + Time);
        Assert.Equal(["line9", "line10"], lines.Select(l => l.Line));
        Assert.Equal(Expected(v => (short)v, 0, 2), ReadAll<short>(lines[0].Source));
        Assert.Equal(Expected(v => (short)v, 2, 3), ReadAll<short>(lines[1].Source));
        foreach (var (_, source) in lines)
            source.Dispose();
    }

    [Fact]
    public void Open_FolderWithADifferentFile_NamesTheFile()
    {
        string folder = Directory.CreateTempSubdirectory().FullName;
        foreach (string file in Directory.EnumerateFiles(At("positions")))
            File.Copy(file, Path.Combine(folder, Path.GetFileName(file)));
        File.Copy(At("version1_float64.npy"), Path.Combine(folder, "p3.npy"));
        StackFormatException e = Assert.Throws<StackFormatException>(() =>
            Open(folder, "[samples]\naxes = [\"beam\", \"sample\"]" + Time)
        );
        Assert.EndsWith("p3.npy", e.File, StringComparison.Ordinal);
        Assert.Contains("Float64", e.Message, StringComparison.Ordinal);
        File.WriteAllText(Path.Combine(folder, "x.bin"), "x");
        e = Assert.Throws<StackFormatException>(() => Open(folder, "[samples]\naxes = [\"beam\", \"sample\"]" + Time));
        Assert.Contains("several kinds", e.Message, StringComparison.Ordinal);
        Directory.Delete(folder, true);
    }

    [Fact]
    public void Natural_Names_NumbersCountAsNumbers()
    {
        string folder = Directory.CreateTempSubdirectory().FullName;
        foreach (string name in (string[])["p10", "p2", "p02", "p1a", "p1", "q", "p"])
            File.WriteAllBytes(Path.Combine(folder, name), new byte[8]);
        var lines = Open(folder, "[samples]\ntype = \"int16\"\naxes = [\"scan\", \"sample\"]\nextent = [1, 4]" + Time);
        Assert.Equal(["p", "p1", "p1a", "p02", "p2", "p10", "q"], lines.Select(l => l.Line));
        foreach (var (_, source) in lines)
            source.Dispose();
        Directory.Delete(folder, true);
    }

    private static string WriteNpy(string header, int dataBytes)
    {
        string path = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName() + ".npy");
        byte[] text = Encoding.ASCII.GetBytes(header + "\n");
        byte[] head = [0x93, .. "NUMPY"u8, 1, 0, (byte)(text.Length & 255), (byte)(text.Length >> 8)];
        File.WriteAllBytes(path, [.. head, .. text, .. new byte[dataBytes]]);
        return path;
    }
}
