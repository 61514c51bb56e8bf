using EchoToThickness.Stacks;
using EchoToThickness.Storage.Foreign;
using EchoToThickness.Storage.Hdf5;
using EchoToThickness.Storage.Native;
using Xunit;

namespace EchoToThickness.Storage.Tests.Native;

/// <summary>Labels of planted failures in a stack: written, read, copied, refused.</summary>
public sealed class LabelLayerTests
{
    [Fact]
    public void Labels_ReadBack_WithTheirNames()
    {
        using TemporaryFolder folder = new();
        string path = folder.File("stack.h5");
        StackInfo info = Stacks.Info();
        Stacks.Write(path, info, new() { FlushToDisk = false }, "line");
        using StackFile file = StackFile.Open(path);
        StackLine line = file.Line("line");
        Assert.Equal(["planted"], line.LabelLayers);
        Assert.Equal(Stacks.LabelNames, line.LabelNames("planted"));
        uint[] some = new uint[3 * 11];
        line.ReadLabels("planted", 2, 3, some);
        Assert.Equal(Stacks.Labels(info)[22..55], some);
        Assert.Equal(["thickness"], line.TruthLayers);
    }

    [Fact]
    public void Labels_ThroughTheOpenerAndTheImporter_StayTheSame()
    {
        using TemporaryFolder folder = new();
        StackInfo info = Stacks.Info();
        Stacks.Write(folder.File("first.h5"), info, new() { FlushToDisk = false }, "line");
        using (IAScanSource source = StackOpener.Open(folder.File("first.h5"))[0].Source)
            StackImporter.Import(
                [("line", source)],
                folder.File("second.h5"),
                new() { FlushToDisk = false },
                cancellation: TestContext.Current.CancellationToken
            );
        using IAScanSource copy = StackOpener.Open(folder.File("second.h5"))[0].Source;
        ILabelSource labels = Assert.IsAssignableFrom<ILabelSource>(copy);
        uint[] all = new uint[info.Shape.Cells];
        labels.ReadLabels("planted", 0, info.Shape.Scans, all);
        Assert.Equal(Stacks.Labels(info), all);
        Assert.Equal(Stacks.LabelNames, labels.LabelNames("planted"));
    }

    [Fact]
    public void Stack_WithoutLabels_SaysSo()
    {
        using TemporaryFolder folder = new();
        StackInfo info = Stacks.Info();
        using (StackWriter writer = StackWriter.Create(folder.File("plain.h5"), new() { FlushToDisk = false }))
        {
            writer.AddLine("line", info).Write(Stacks.Samples(info));
            writer.Complete();
        }
        using StackFile file = StackFile.Open(folder.File("plain.h5"));
        StackLine line = file.Line("line");
        Assert.Empty(line.LabelLayers);
        StackFormatException e = Assert.Throws<StackFormatException>(() => line.LabelNames("planted"));
        Assert.Contains("known here: none", e.What, StringComparison.Ordinal);
        Assert.Equal("/lines/line/truth_labels", e.ObjectPath);
        Assert.Throws<StackFormatException>(() => line.ReadLabels("planted", 0, 1, new uint[11]));
    }

    [Fact]
    public void WriteLabels_ThatCannotBe_AreRefusedWithTheReason()
    {
        using TemporaryFolder folder = new();
        StackInfo info = Stacks.Info();
        using StackWriter writer = StackWriter.Create(folder.File("stack.h5"));
        StackLineWriter line = writer.AddLine("line", info);
        uint[] none = new uint[info.Shape.Cells];
        uint[] third = [.. none];
        third[5] = 4;
        Assert.Contains("no label layer", Fault("other", ["a"], none));
        Assert.Contains("do not fill", Fault("planted", ["a"], none[1..]));
        Assert.Contains("0 names", Fault("planted", [], none));
        Assert.Contains("33 names", Fault("planted", [.. Enumerable.Range(0, 33).Select(i => $"n{i}")], none));
        Assert.Contains("cannot name a bit", Fault("planted", ["two words"], none));
        Assert.Contains("cannot name a bit", Fault("planted", [new string('a', 65)], none));
        Assert.Contains("stands for two bits", Fault("planted", ["a", "b", "a"], none));
        Assert.Contains("0x00000004 hold a bit without a name", Fault("planted", ["a", "b", ""], third));
        line.WriteLabels("planted", ["a", "", "c"], third);
        Assert.Contains("written already", Fault("planted", ["a", "", "c"], third));

        string Fault(string layer, string[] names, uint[] labels) =>
            Assert.Throws<ArgumentException>(() => line.WriteLabels(layer, names, labels)).Message;
    }

    [Theory]
    // Another attribute's name; two bits of one name; a capital letter; a signed integer for the words.
    [InlineData("bit_names", "bit_namez", "The names of the bits are missing", "truth_labels/planted@bit_names")]
    [InlineData("lamination spike", "lamination-spike", "cannot name a bit", "truth_labels/planted@bit_names")]
    [InlineData("lamination spike", "Lamination spike", "cannot name a bit", "truth_labels/planted@bit_names")]
    [InlineData(
        "\x10\0\0\0\x04\0\0\0\0\0\x20\0",
        "\x10\x08\0\0\x04\0\0\0\0\0\x20\0",
        "an unsigned 32-bit integer",
        "truth_labels/planted"
    )]
    public void Open_LabelsOfAnotherProgramGoneWrong_NamesObjectAndReason(
        string text,
        string other,
        string reason,
        string objectPath
    )
    {
        using TemporaryFolder folder = new();
        string path = folder.File("stack.h5");
        Stacks.Write(path, Stacks.Info(), new() { FlushToDisk = false }, "line");
        byte[] bytes = File.ReadAllBytes(path);
        int at = bytes.AsSpan().IndexOf(System.Text.Encoding.Latin1.GetBytes(text));
        Assert.True(at > 0, "The file does not hold what the test changes.");
        System.Text.Encoding.Latin1.GetBytes(other).CopyTo(bytes, at);
        int header = bytes.AsSpan(0, at).LastIndexOf("OHDR"u8);
        int length = 10 + BitConverter.ToInt32(bytes, header + 6);
        uint checksum = Hdf5Checksums.Lookup3(bytes.AsSpan(header, length));
        BitConverter.TryWriteBytes(bytes.AsSpan(header + length), checksum);
        File.WriteAllBytes(path, bytes);
        using StackFile file = StackFile.Open(path);
        StackFormatException e = Assert.Throws<StackFormatException>(() => file.Line("line"));
        Assert.Contains(reason, e.What, StringComparison.Ordinal);
        Assert.EndsWith(objectPath, e.ObjectPath, StringComparison.Ordinal);
    }
}
