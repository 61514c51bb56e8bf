using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Foreign;
using Xunit;
using static EchoToThickness.Storage.Tests.Foreign.ForeignFixtures;

namespace EchoToThickness.Storage.Tests.Foreign;

/// <summary>What a wrong layout map or a file that does not suit it says: file, line, key, fix.</summary>
public sealed class LayoutErrorTests
{
    private const string Good = """
        [samples]
        dataset = "/export/waves"
        [time]
        sample_rate = { value = "100 MHz" }

        """;

    [Theory]
    [InlineData("[sampels]\nx = 1\n[time]\nsample_rate = { value = \"1 MHz\" }", "sampels", "samples")]
    [InlineData("[samples]\ndatset = \"/a\"\n[time]\nsample_rate = { value = \"1 MHz\" }", "datset", "dataset")]
    [InlineData("[time]\nsample_rate = { valu = \"1 MHz\" }", "valu", "value")]
    [InlineData("[time]\nsample_rate = { value = \"1 mm\" }", "1 mm", "frequency")]
    [InlineData("[time]\nsample_rate = { attribute = \"/a@b\", unit = \"mm\" }", "'mm'", "MHz")]
    [InlineData("[time]\nsample_rate = { attribute = \"rate\", unit = \"Hz\" }", "which object", "/ascans@rate")]
    [InlineData("[time]\nsample_rate = { attribute = \"/a@b\", value = \"1 MHz\" }", "more than one source", "one of")]
    [InlineData("[time]\nsample_rate = { unit = \"Hz\" }", "no source", "one of")]
    [InlineData("[time]\nstart = { value = \"1 us\" }", "time base is missing", "sample_rate")]
    [InlineData(
        "[time]\nsample_rate = { value = \"1 MHz\" }\ninterval = { value = \"1 us\" }",
        "more than once",
        "one of"
    )]
    [InlineData("[samples]\naxes = [\"scan\", \"beem\"]\n[time]\nsample_rate = { value = \"1 MHz\" }", "beem", "beam")]
    [InlineData(
        "[time]\nsample_rate = { value = \"1 MHz\" }\n[positions]\nscan = { first = \"0 mm\" }",
        "belong together",
        "step"
    )]
    [InlineData(
        "[time]\nsample_rate = { value = \"1 MHz\" }\n[acquisition]\nelements = { value = \"64 mm\" }",
        "not a plain number",
        "\"64\""
    )]
    [InlineData("layout_version = 2\n[time]\nsample_rate = { value = \"1 MHz\" }", "layout_version", "1")]
    [InlineData("description = \"no time\"", "time base is missing", "sample_rate")]
    public void Parse_Faulty_NamesFileLineKeyAndFix(string toml, string what, string fix)
    {
        ProcedureException e = Assert.Throws<ProcedureException>(() => Map(toml));
        Assert.Contains("map.toml", e.Message, StringComparison.Ordinal);
        Assert.Contains(what, e.Message, StringComparison.Ordinal);
        Assert.Contains(fix, e.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("/export/waves", "/export/waes", "samples.dataset in map.toml(2,1)")]
    [InlineData("/export/waves", "/export", "This is a group")]
    [InlineData(
        "dataset = \"/export/waves\"",
        "dataset = \"/export/waves\"\naxes = [\"scan\", \"sample\"]",
        "3 axes [5 x 4 x 64]"
    )]
    [InlineData(
        "dataset = \"/export/waves\"",
        "dataset = \"/export/waves\"\naxes = [\"scan\", \"single\", \"sample\"]",
        "extent 4"
    )]
    [InlineData(
        "dataset = \"/export/waves\"",
        "dataset = \"/export/waves\"\naxes = [\"scan\", \"scan\", \"sample\"]",
        "named twice"
    )]
    [InlineData(
        "dataset = \"/export/waves\"",
        "dataset = \"/export/waves\"\naxes = [\"scan\", \"beam\", \"single\"]",
        "extent 64"
    )]
    [InlineData(
        "{ value = \"100 MHz\" }",
        "{ attribute = \"/export/waves@rate\", unit = \"Hz\" }",
        "There is no such attribute"
    )]
    [InlineData("{ value = \"100 MHz\" }", "{ dataset = \"/export/encoder_mm\", unit = \"Hz\" }", "5 different ones")]
    [InlineData("{ value = \"100 MHz\" }", "{ value = \"0 MHz\" }", "The sample rate is 0 Hz")]
    public void Open_MapDoesNotSuitFile_NamesFileObjectAndKey(string from, string to, string expected)
    {
        StackFormatException e = Assert.Throws<StackFormatException>(() =>
            Open(At("user_block.h5"), Good.Replace(from, to, StringComparison.Ordinal))
        );
        Assert.Contains(expected, e.Message, StringComparison.Ordinal);
        Assert.Contains("user_block.h5", e.Message, StringComparison.Ordinal);
        Assert.Contains("map.toml(", e.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Open_UnitMissing_SaysWhichUnits()
    {
        ProcedureException e = Assert.Throws<ProcedureException>(() =>
            Open(At("user_block.h5"), Good + "[positions]\nscan = { dataset = \"/export/encoder_mm\" }")
        );
        Assert.Contains("has no unit", e.Message, StringComparison.Ordinal);
        Assert.Contains("map.toml(6,", e.Message, StringComparison.Ordinal);
        Assert.Contains("mm", e.Remedy, StringComparison.Ordinal);
    }

    [Fact]
    public void Open_PositionsOfAnotherLength_SaysBoth()
    {
        StackFormatException e = Assert.Throws<StackFormatException>(() =>
            Open(At("user_block.h5"), Good + "[positions]\nindex = { dataset = \"/export/encoder_mm\", unit = \"mm\" }")
        );
        Assert.Contains("5 values for an extent of 4", e.Message, StringComparison.Ordinal);
        Assert.Equal("/export/encoder_mm", e.ObjectPath);
    }

    [Fact]
    public void Open_OptionalFactMissing_IsUnknown()
    {
        using IAScanSource source = OpenOne(
            At("user_block.h5"),
            Good
                + "[acquisition]\nfrequency = { attribute = \"/export/waves@f\", unit = \"Hz\", optional = true }\n"
                + "aperture = { dataset = \"/export/encoder_mm\", unit = \"mm\", optional = true }\n"
                + "[truth]\nthickness = { dataset = \"/nothing\", unit = \"mm\", optional = true }"
        );
        Assert.Null(source.Info.Acquisition.FrequencyHz);
        Assert.Null(source.Info.Acquisition.ApertureMetres);
        Assert.Empty(((ITruthSource)source).TruthLayers);
    }

    [Theory]
    [InlineData("words", "string")]
    public void Open_DatasetOfWords_SaysWhatIsStored(string dataset, string expected)
    {
        StackFormatException e = Assert.Throws<StackFormatException>(() =>
            Open(
                At("small.h5"),
                $"[samples]\ndataset = \"{dataset}\"\naxes = [\"sample\"]\n[time]\nsample_rate = {{ value = \"1 MHz\" }}"
            )
        );
        Assert.Contains(expected, e.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Open_WithoutLayout_SaysThatDescribeProposesOne()
    {
        foreach (string file in (string[])["user_block.h5", "c_int16.npy", "big_endian.raw", "positions"])
        {
            StackFormatException e = Assert.Throws<StackFormatException>(() => StackOpener.Open(At(file)));
            Assert.Contains("ett describe " + file, e.Remedy, StringComparison.Ordinal);
            Assert.Contains("--layout", e.Remedy, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Open_NothingThere_TypedError()
    {
        StackFormatException e = Assert.Throws<StackFormatException>(() => StackOpener.Open("no-such-file.h5"));
        Assert.Contains("cannot be opened", e.Message, StringComparison.Ordinal);
        e = Assert.Throws<StackFormatException>(() => StackOpener.Open(At("c_int16.npy"), "no-such-map.toml"));
        Assert.EndsWith("no-such-map.toml", e.File, StringComparison.Ordinal);
    }

    [Fact]
    public void Lend_OutsideTheStack_IsRefused()
    {
        using IAScanSource source = OpenOne(At("user_block.h5"), Good);
        using IAScanReader reader = source.OpenReader();
        Assert.Throws<ArgumentOutOfRangeException>(() => _ = reader.Lend(4, 2, 0, 4).ScanCount);
        Assert.Throws<ArgumentOutOfRangeException>(() => _ = reader.Lend(0, 1, 3, 2).ScanCount);
        Assert.Throws<ArgumentOutOfRangeException>(() => _ = reader.Lend(-1, 1, 0, 1).ScanCount);
    }
}
