using EchoToThickness.Stacks;
using EchoToThickness.Storage.Hdf5;
using Xunit;

namespace EchoToThickness.Storage.Tests.Hdf5;

/// <summary>Files written by h5py 3.7 / HDF5 1.10.8 (testdata/hdf5), read bit for bit.</summary>
public sealed class ForeignFileTests
{
    private static readonly string[] Layouts =
    [
        "contiguous",
        "row_chunks",
        "odd_chunks",
        "one_chunk",
        "gzip",
        "gzip_shuffle",
        "gzip_shuffle_fletcher",
        "fletcher",
        "shuffle",
        "lzf",
        "one_unlimited",
        "two_unlimited",
        "wide_limit",
        "scaleoffset",
    ];

    public static TheoryData<string, string> AllLayouts()
    {
        TheoryData<string, string> data = [];
        foreach (string file in new[] { "layouts-old.h5", "layouts-latest.h5", "layouts-userblock.h5" })
        {
            foreach (string layout in Layouts)
                data.Add(file, layout);
        }
        return data;
    }

    [Theory]
    [MemberData(nameof(AllLayouts))]
    public void Every_layout_gives_the_samples_that_were_written(string file, string layout)
    {
        using Hdf5File hdf5 = Hdf5File.Open(Fixtures.Path(file));
        Hdf5Dataset dataset = hdf5.Dataset(layout);
        Assert.Equal(Fixtures.Shape, dataset.Dimensions);
        Assert.Equal(SampleType.Int16, dataset.Type.SampleType);
        using Hdf5Reader reader = dataset.OpenReader();
        foreach ((long[] start, long[] count) in Slabs())
        {
            byte[] bytes = new byte[count[0] * count[1] * count[2] * 2];
            reader.Read(start, count, bytes);
            Assert.Equal(Fixtures.Expected(SampleType.Int16, start, count), bytes);
        }
    }

    [Theory]
    [MemberData(nameof(AllLayouts))]
    public void The_direct_path_and_the_library_agree(string file, string layout)
    {
        using Hdf5File hdf5 = Hdf5File.Open(Fixtures.Path(file));
        Hdf5Dataset dataset = hdf5.Dataset(layout);
        if (layout == "wide_limit" && file != "layouts-old.h5")
        {
            // PureHDF 2.2.0 reads these wrongly without complaint, so its path refuses them.
            StackFormatException e = Assert.Throws<StackFormatException>(() => dataset.OpenLibraryReader());
            Assert.Contains("may grow to 9", e.What, StringComparison.Ordinal);
            return;
        }
        using Hdf5Reader reader = dataset.OpenLibraryReader();
        foreach ((long[] start, long[] count) in Slabs())
        {
            byte[] bytes = new byte[count[0] * count[1] * count[2] * 2];
            reader.Read(start, count, bytes);
            Assert.Equal(Fixtures.Expected(SampleType.Int16, start, count), bytes);
        }
    }

    [Fact]
    public void Only_layouts_beyond_the_direct_path_go_through_the_library()
    {
        using Hdf5File hdf5 = Hdf5File.Open(Fixtures.Path("layouts-latest.h5"));
        string[] slow = [.. Layouts.Where(l => !hdf5.Dataset(l).HasFastPath)];
        Assert.Equal(["one_unlimited", "scaleoffset"], slow);
    }

    [Theory]
    [InlineData("layouts-old.h5")]
    [InlineData("layouts-latest.h5")]
    public void Chunks_never_written_hold_the_fill_value(string file)
    {
        using Hdf5File hdf5 = Hdf5File.Open(Fixtures.Path(file));
        double[] values = hdf5.Dataset("unwritten").ReadDoubles();
        Assert.Equal(7 * 11 * 40, values.Length);
        Assert.All(values, v => Assert.Equal(-5, v));
    }

    [Theory]
    [InlineData("layouts-old.h5")]
    [InlineData("layouts-latest.h5")]
    public void An_index_of_several_nodes_or_pages_is_followed(string file)
    {
        using Hdf5File hdf5 = Hdf5File.Open(Fixtures.Path(file));
        Hdf5Dataset dataset = hdf5.Dataset("many_chunks");
        Assert.True(dataset.HasFastPath);
        byte[] bytes = new byte[60 * 30 * 4 * 2];
        using Hdf5Reader reader = dataset.OpenReader();
        reader.Read([0, 0, 0], [60, 30, 4], bytes);
        Assert.Equal(Fixtures.Expected(SampleType.Int16, [0, 0, 0], [60, 30, 4]), bytes);
    }

    [Theory]
    [InlineData("i1", SampleType.Int8)]
    [InlineData("u1", SampleType.UInt8)]
    [InlineData("i2", SampleType.Int16)]
    [InlineData("u2", SampleType.UInt16)]
    [InlineData("f4", SampleType.Float32)]
    [InlineData("f8", SampleType.Float64)]
    public void All_sample_types_are_read_in_both_byte_orders(string kind, SampleType type)
    {
        using Hdf5File hdf5 = Hdf5File.Open(Fixtures.Path("types.h5"));
        byte[] expected = Fixtures.Expected(type, [0, 0, 0], Fixtures.Shape);
        foreach (string order in new[] { "little_", "big_" })
        {
            foreach (string packed in new[] { "", "_packed" })
            {
                Hdf5Dataset dataset = hdf5.Dataset(order + kind + packed);
                Assert.Equal(type, dataset.Type.SampleType);
                Assert.Equal(order == "big_" && type.SizeBytes() > 1, dataset.Type.IsBigEndian);
                foreach (Hdf5Reader opened in new[] { dataset.OpenReader(), dataset.OpenLibraryReader() })
                {
                    using Hdf5Reader reader = opened;
                    byte[] bytes = new byte[expected.Length];
                    reader.Read([0, 0, 0], Fixtures.Shape, bytes);
                    Assert.Equal(expected, bytes);
                }
            }
        }
    }

    [Theory]
    [InlineData("structure-old.h5")]
    [InlineData("structure-latest.h5")]
    public void Attributes_of_every_kind_are_read(string file)
    {
        using Hdf5File hdf5 = Hdf5File.Open(Fixtures.Path(file));
        Assert.Equal(12.5, hdf5.Attribute("/", "big_double")!.ToDouble());
        Assert.Equal(0.25, hdf5.Attribute("/", "float")!.ToDouble());
        Assert.Equal(-7, hdf5.Attribute("/", "int")!.ToInt64());
        Assert.Equal(65000, hdf5.Attribute("/", "big_unsigned")!.ToInt64());
        Assert.Equal("plate µm", hdf5.Attribute("/", "text")!.ToText());
        Assert.Equal("fixed text", hdf5.Attribute("/", "fixed")!.ToText());
        Assert.Equal([0, 0.25, 0.5, 0.75, 1], hdf5.Attribute("/", "doubles")!.ToDoubles());
        Assert.Equal(["one", "two", "three"], hdf5.Attribute("/", "texts")!.ToTexts());
        Assert.Null(hdf5.Attribute("/", "absent"));
        IReadOnlyList<Hdf5Attribute> many = hdf5.Attributes("/many_attributes");
        Assert.Equal(60, many.Count);
        for (int i = 0; i < 60; i++)
            Assert.Equal(i * 1.5, many[i].ToDouble());
        StackFormatException wrong = Assert.Throws<StackFormatException>(() => hdf5.Attribute("/", "text")!.ToDouble());
        Assert.Contains("attribute text", wrong.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("structure-old.h5")]
    [InlineData("structure-latest.h5")]
    public void Links_inside_are_followed_and_links_outside_refused(string file)
    {
        using Hdf5File hdf5 = Hdf5File.Open(Fixtures.Path(file));
        double[] expected = [.. Enumerable.Range(0, 12).Select(i => (double)i)];
        foreach (
            string path in new[]
            {
                "hard",
                "/soft/data",
                "relative/c/data",
                "a/again/b/c/data",
                "crowd/member000",
                "crowd/member299",
            }
        )
            Assert.Equal(expected, hdf5.Dataset(path).ReadDoubles());
        Assert.Equal([0, 1, 2], hdf5.Dataset("committed").ReadDoubles());
        Assert.Equal([3.5], hdf5.Dataset("scalar").ReadDoubles());
        Assert.Equal(300, hdf5.Children("crowd").Count);
        Assert.False(hdf5.Exists("nowhere"));
        StackFormatException ring = Assert.Throws<StackFormatException>(() => hdf5.Dataset("ring"));
        Assert.Contains("ring", ring.What, StringComparison.Ordinal);
        StackFormatException outside = Assert.Throws<StackFormatException>(() => hdf5.Dataset("outside"));
        Assert.Contains("another file", outside.What, StringComparison.Ordinal);
        Hdf5Contents contents = hdf5.Walk();
        Assert.Equal(["/outside"], contents.RefusedLinks);
        Assert.Contains("/crowd", contents.Groups);
        Assert.Contains("/committed", contents.Datasets);
    }

    [Fact]
    public void Strings_and_enumerations_are_read_with_their_names()
    {
        using Hdf5File hdf5 = Hdf5File.Open(Fixtures.Path("types.h5"));
        Assert.Equal(["alpha", "beta"], hdf5.Dataset("texts").ReadTexts());
        Hdf5Dataset status = hdf5.Dataset("status");
        Assert.Equal(Hdf5TypeClass.Enumeration, status.Type.Class);
        Assert.Equal([("Measured", 0L), ("NotScanned", 7L)], status.Type.Members);
        Assert.Equal([0, 7, 0], status.ReadDoubles());
        Assert.Null(hdf5.Dataset("int32").Type.SampleType);
        Assert.Null(hdf5.Dataset("float16").Type.SampleType);
    }

    private static IEnumerable<(long[] Start, long[] Count)> Slabs()
    {
        yield return ([0, 0, 0], [7, 11, 40]);
        yield return ([0, 0, 0], [1, 11, 40]);
        yield return ([2, 3, 0], [4, 5, 40]);
        yield return ([5, 10, 17], [2, 1, 23]);
        yield return ([6, 0, 39], [1, 11, 1]);
        yield return ([3, 5, 20], [3, 5, 20]);
    }
}
