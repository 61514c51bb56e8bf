using EchoToThickness.Procedures;
using EchoToThickness.Units;
using Xunit;

namespace EchoToThickness.Tests.Procedures;

/// <summary>Expected texts are written by hand: the edit is the only difference.</summary>
public sealed class TomlEditorTests
{
    private const string Text = """
        # Bend 7, µ-sized letters and all: ä, 𝛼
        [procedure]
        name = "bend"   # the name stays

        # The first gate.
        [[gate]]
        name = "one"
        start = "0.5 us" # behind the interface
        width = "2 us"

        # The second.
        [[gate]]
        name = "two"
        follows = "one"
        start = "1 us"
        width = "3 us"

        [[gate.level_by_depth]]
        depth = "2 mm"
        change = "0 dB"
        [[gate.level_by_depth]]
        depth = "9 mm"
        change = "-6 dB" # far

        [output]
        layers = [
          "thickness", # near
          "margin",
        ]

        [pairing]
        rule = "difference"
        from = "one"
        to = "two"

        [velocity]
        value = "5920 m/s"

        """;

    [Theory]
    [InlineData("gate[1].start", "0.62 us", "start = \"0.5 us\" # behind", "start = \"0.62 us\" # behind")]
    [InlineData("gate[2].width", "2.5 us", "width = \"3 us\"", "width = \"2.5 us\"")]
    [InlineData("procedure.name", "a \"b\"", "name = \"bend\"   #", "name = \"a \\\"b\\\"\"   #")]
    [InlineData("velocity.value", "5900 m/s", "5920 m/s", "5900 m/s")]
    [InlineData("output.layers", "[\"snr\"]", "[\n  \"thickness\", # near\n  \"margin\",\n]", "[\"snr\"]")]
    [InlineData("gate[2].level_by_depth[2].change", "-7 dB", "-6 dB", "-7 dB")]
    [InlineData("gate[2].take", "first", "width = \"3 us\"\n", "width = \"3 us\"\ntake = \"first\"\n")]
    [InlineData("gate[1].level", "4 x noise", "width = \"2 us\"\n", "width = \"2 us\"\nlevel = \"4 x noise\"\n")]
    [InlineData("velocity.uncertainty", "6 m/s", "5920 m/s\"\n", "5920 m/s\"\nuncertainty = \"6 m/s\"\n")]
    public void Set_OneKey_ChangesNothingElse(string key, string value, string before, string after)
    {
        string edited = TomlEditor.Set<Procedure>(Text, key, value);
        Assert.Equal(Text.Replace(before, after, StringComparison.Ordinal), edited);
        Assert.Equal(value, TomlBinder.Values(ProcedureText.Parse(edited, "p")).GetValueOrDefault(key));
    }

    [Fact]
    public void Set_SectionNotInTheFile_IsAddedAtTheEnd() =>
        Assert.Equal(Text + "\n[wall]\nminimum = \"2 mm\"\n", TomlEditor.Set<Procedure>(Text, "wall.minimum", "2 mm"));

    [Fact]
    public void Set_EmptyText_IsOneSection() =>
        Assert.Equal("[wall]\nminimum = \"2 mm\"\n", TomlEditor.Set<Procedure>("", "wall.minimum", "2 mm"));

    [Theory]
    [InlineData("wall = { minimum = \"1 mm\" }\n", "wall = { minimum = \"1 mm\", maximum = \"9 mm\" }\n")]
    [InlineData("wall = {}\n", "wall = { maximum = \"9 mm\" }\n")]
    [InlineData("wall.minimum = \"1 mm\" # a\n", "wall.minimum = \"1 mm\" # a\nwall.maximum = \"9 mm\"\n")]
    [InlineData("[wall]", "[wall]\nmaximum = \"9 mm\"\n")]
    [InlineData("[wall] # x\n[train]\n", "[wall] # x\nmaximum = \"9 mm\"\n[train]\n")]
    [InlineData("[wall]\nmaximum = \"8 mm\"", "[wall]\nmaximum = \"9 mm\"")]
    public void Set_EveryFormOfATable_IsKept(string before, string after) =>
        Assert.Equal(after, TomlEditor.Set<Procedure>(before, "wall.maximum", "9 mm"));

    [Fact]
    public void Clear_Key_LeavesItsLineOutAndKeepsTheRest()
    {
        Assert.Equal(
            Text.Replace("start = \"0.5 us\" # behind the interface\n", "", StringComparison.Ordinal),
            TomlEditor.Clear<Procedure>(Text, "gate[1].start")
        );
        Assert.Equal(Text, TomlEditor.Clear<Procedure>(Text, "gate[1].level"));
    }

    [Fact]
    public void AddThenRemoveEntry_GivesBackTheText()
    {
        string added = TomlEditor.AddEntry<Procedure>(
            Text,
            "gate",
            [("name", "three"), ("follows", "two"), ("start", "1 us"), ("width", "2 mm")]
        );
        Procedure procedure = ProcedureText.Parse(added, "p");
        Assert.Equal("three", procedure.Gates[2].Name);
        Assert.Equal(GateExtent.FromDepth(2e-3), procedure.Gates[2].Width);
        Assert.Equal(2, procedure.Gates[1].LevelByDepth.Count);
        // Behind the second gate, before [output].
        Assert.True(
            added.IndexOf("three", StringComparison.Ordinal) < added.IndexOf("[output]", StringComparison.Ordinal)
        );
        Assert.Equal(Text, TomlEditor.RemoveEntry<Procedure>(added, "gate[3]"));
        Assert.Equal(
            Text.Remove(Text.IndexOf("[[gate]]\nname = \"two\"", StringComparison.Ordinal))
                + "\n"
                + Text[Text.IndexOf("[output]", StringComparison.Ordinal)..],
            TomlEditor.RemoveEntry<Procedure>(Text, "gate[2]")
        );
    }

    [Fact]
    public void AddEntry_FileWithoutTheList_StandsAtTheEnd() =>
        Assert.Equal(
            "[wall]\n\n[[gate]]\nname = \"a\"\n",
            TomlEditor.AddEntry<Procedure>("[wall]\n", "gate", [("name", "a")])
        );

    [Theory]
    [InlineData("gate[3].start", "1 us", "gate")]
    [InlineData("gate[1].begin", "1 us", "begin")]
    [InlineData("wall", "1 mm", "section")]
    [InlineData("gate[2].level_by_depth", "1", "section")]
    [InlineData("conditioning.taps", "63 ]\n[x", "taps")]
    public void Set_WrongKeyOrForm_IsRefused(string key, string value, string about)
    {
        ProcedureException error = Assert.Throws<ProcedureException>(() => TomlEditor.Set<Procedure>(Text, key, value));
        Assert.Contains(about, error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void RemoveEntry_NotThere_IsRefused() =>
        Assert.Throws<ProcedureException>(() => TomlEditor.RemoveEntry<Procedure>(Text, "gate[3]"));

    [Fact]
    public void Values_OfAnyProcedure_SetOnAnEmptyTextGiveItBack()
    {
        Procedure wanted = ProcedureText.Parse(Text, "p") with { Wall = new WallSettings { NominalMetres = 8.18e-3 } };
        IReadOnlyDictionary<string, string> values = TomlBinder.Values(wanted);
        string text = TomlEditor.AddEntry<Procedure>("", "gate", [("name", "x")]);
        text = TomlEditor.AddEntry<Procedure>(text, "gate", [("name", "y")]);
        text += "[[gate.level_by_depth]]\n[[gate.level_by_depth]]\n";
        foreach ((string key, string value) in values)
            text = TomlEditor.Set<Procedure>(text, key, value);
        Assert.Equal(ProcedureText.Write(wanted), ProcedureText.Write(ProcedureText.Parse(text, "p")));
        Assert.Equal("8.18 mm", values["wall.nominal"]);
        Assert.Equal("true", values["train.neighbours"]);
        Assert.False(values.ContainsKey("train.frequency"));
    }
}
