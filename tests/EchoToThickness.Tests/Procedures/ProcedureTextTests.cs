using EchoToThickness.Procedures;
using Xunit;

namespace EchoToThickness.Tests.Procedures;

public sealed class ProcedureTextTests
{
    private const string TwoGates = """
        [procedure]
        name = "two gates"

        [conditioning]
        band_low = "4 MHz"
        band_high = "10 MHz"
        taps = 63
        signal = "rf"

        [interface]
        search_start = "2 us"
        search_end = "12 us"
        level = "30 % of full scale"
        take = "first"
        pick = "flank"
        flank_fraction = "50 %"

        [[gate]]
        name = "wall1"
        start = "0.6 us"
        width = "8 mm"
        level = "-26 dB of followed"
        polarity = "opposite"
        [[gate.level_by_depth]]
        depth = "2 mm"
        change = "0 dB"
        [[gate.level_by_depth]]
        depth = "12 mm"
        change = "-6 dB"

        [[gate]]
        name = "wall2"
        follows = "wall1"
        start = "1.2 mm"
        width = "4 us"

        [wall]
        minimum = "2 mm"
        maximum = "20 mm"

        [pairing]
        rule = "difference"
        from = "wall1"
        to = "wall2"

        [velocity]
        calibration = [
          { thickness = "5 mm", time = "2.052 us" },
          { thickness = "20 mm", time = "7.124 us", time_uncertainty = "3 ns" },
        ]

        [output]
        layers = ["thickness", "snr"]
        """;

    [Fact]
    public void Parse_EmptyText_IsTheDefaultProcedure() =>
        Assert.Equal(ProcedureText.Write(new Procedure()), ProcedureText.Write(ProcedureText.Parse("", "empty.toml")));

    [Fact]
    public void Parse_FullText_BindsEveryKind()
    {
        Procedure p = ProcedureText.Parse(TwoGates, "two.toml");
        Assert.Equal("two gates", p.Header.Name);
        Assert.Equal(4e6, p.Conditioning.BandLowHz);
        Assert.Equal(63, p.Conditioning.Taps);
        Assert.Equal(2e-6, p.Interface.SearchStartSeconds);
        Assert.Equal(new LevelRule(0.3, LevelReference.FullScale), p.Interface.Level);
        Assert.Equal(0.5, p.Interface.FlankFraction);
        Assert.Equal(2, p.Gates.Count);
        Assert.Equal(GateExtent.FromSeconds(0.6e-6), p.Gates[0].Start);
        Assert.Equal(GateExtent.FromDepth(8e-3), p.Gates[0].Width);
        Assert.Equal(PolarityChoice.Opposite, p.Gates[0].Polarity);
        Assert.Equal([2e-3, 12e-3], p.Gates[0].LevelByDepth.Select(point => point.DepthMetres));
        Assert.Equal(-6, p.Gates[0].LevelByDepth[1].ChangeDecibels);
        Assert.Equal("wall1", p.Gates[1].Follows);
        Assert.Equal(PairingRule.Difference, p.Pairing.Rule);
        Assert.Equal(7.124e-6, p.Velocity.Calibration[1].TimeSeconds);
        Assert.Equal(3e-9, p.Velocity.Calibration[1].TimeUncertaintySeconds);
        Assert.Equal(["thickness", "snr"], p.Output.Layers);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Write_ThenParse_IsTheSameProcedure(bool withComments)
    {
        Procedure p = ProcedureText.Parse(TwoGates, "two.toml");
        string text = ProcedureText.Write(p, withComments);
        Procedure back = ProcedureText.Parse(text, "again.toml");
        Assert.Equal(ProcedureText.Write(p), ProcedureText.Write(back));
        Assert.Equal(ProcedureText.Sha256(p), ProcedureText.Sha256(back));
    }

    [Fact]
    public void Write_Procedure_HoldsEveryDefaultOnce()
    {
        string text = ProcedureText.Write(new Procedure());
        Assert.Contains(
            "[conditioning]\nremove_offset = true\ntaps = 63\nsignal = \"rf\"\n",
            text,
            StringComparison.Ordinal
        );
        Assert.Contains("level = \"-6 dB of strongest\"", text, StringComparison.Ordinal);
        Assert.Contains("temperature_coefficient = \"-0.8 m/s/K\"", text, StringComparison.Ordinal);
        Assert.DoesNotContain("band_low", text, StringComparison.Ordinal);
        Assert.DoesNotContain("\r", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Sha256_OneKeyChanged_Changes()
    {
        var p = new Procedure();
        string one = ProcedureText.Sha256(p);
        Assert.Equal(64, one.Length);
        Assert.Equal(one, ProcedureText.Sha256(new Procedure()));
        Assert.NotEqual(one, ProcedureText.Sha256(p with { Wall = p.Wall with { MinimumMetres = 1.3e-3 } }));
    }

    [Theory]
    [InlineData(
        "[interface]\nlevl = \"5 x noise\"",
        "p.toml(2,1)",
        "Unknown key 'levl' in [interface].",
        "did you mean 'level'?"
    )]
    [InlineData(
        "[interfase]\n",
        "p.toml(1,2)",
        "Unknown key 'interfase' at the top of the file.",
        "did you mean 'interface'?"
    )]
    [InlineData(
        "[wall]\nband_low = \"4 MHz\"",
        "p.toml(2,1)",
        "Unknown key 'band_low' in [wall].",
        "belongs to [conditioning]"
    )]
    [InlineData(
        "[wall]\nqqqqqq = 1",
        "p.toml(2,1)",
        "Unknown key 'qqqqqq'",
        "keys known here: minimum, maximum, nominal"
    )]
    [InlineData("[wall]\nminimum = 2", "p.toml(2,11)", "minimum = 2 has no unit.", "minimum = \"8.6 mm\"")]
    [InlineData("[wall]\nminimum = \"2\"", "p.toml(2,11)", "'2' has no unit.", "\"8.6 mm\"")]
    [InlineData("[wall]\nminimum = \"2 us\"", "p.toml(2,11)", "is a time, not a length", "units: mm")]
    [InlineData(
        "[wall]\nminimum = \"-2 mm\"",
        "p.toml(2,11)",
        "minimum = \"-2 mm\" is out of range.",
        "at least \"0 mm\""
    )]
    [InlineData("[velocity]\nvalue = \"59 m/s\"", "p.toml(2,9)", "out of range", "from \"500 m/s\" to \"20000 m/s\"")]
    [InlineData("[conditioning]\ntaps = 63.5", "p.toml(2,8)", "must be a whole number", "taps = 1")]
    [InlineData("[conditioning]\ntaps = 99999999999", "p.toml(2,8)", "ordinary size", "taps")]
    [InlineData(
        "[conditioning]\nremove_offset = \"yes\"",
        "p.toml(2,17)",
        "must be true or false",
        "remove_offset = true"
    )]
    [InlineData(
        "[conditioning]\nsignal = \"RF\"",
        "p.toml(2,10)",
        "signal = \"RF\" is not one of its words.",
        "did you mean \"rf\"?"
    )]
    [InlineData(
        "[conditioning]\nsignal = \"video\"",
        "p.toml(2,10)",
        "not one of its words",
        "\"rf\", \"rectified\", \"envelope\""
    )]
    [InlineData(
        "[interface]\nlevel = \"30 %\"",
        "p.toml(2,9)",
        "does not say what the level is measured against",
        "of full scale"
    )]
    [InlineData(
        "[[gate]]\nname = \"a\"\nstart = \"1 us\"",
        "p.toml(1,3)",
        "The key 'width' is missing.",
        "add width = "
    )]
    [InlineData("[gate]\nname = \"a\"", "p.toml(1,2)", "'gate' must be a list of tables.", "[[gate]]")]
    [InlineData("[[wall]]\nminimum = \"2 mm\"", "p.toml(1,3)", "'wall' must be a table.", "begin it with [wall].")]
    [InlineData("wall = 3", "p.toml(1,1)", "'wall' must be a table.", "[wall]")]
    [InlineData("[output]\nlayers = \"thickness\"", "p.toml(2,10)", "'layers' must be a list.", "layers = [\"text\"]")]
    [InlineData("[output]\nlayers = [1]", "p.toml(2,11)", "must be text in quotes", "layers")]
    [InlineData("[procedure]\nformat = 2", "p.toml(2,10)", "format = 2 is out of range.", "from 1 to 1")]
    public void Parse_OneFault_NamesPlaceFaultAndFix(string toml, string place, string what, string remedy)
    {
        ProcedureException error = Assert.Throws<ProcedureException>(() => ProcedureText.Parse(toml, "p.toml"));
        ProcedureFinding finding = Assert.Single(error.Findings);
        Assert.StartsWith(place, finding.Place, StringComparison.Ordinal);
        Assert.Contains(what, finding.What, StringComparison.Ordinal);
        Assert.Contains(remedy, finding.Remedy, StringComparison.Ordinal);
        Assert.Contains("To fix: ", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Parse_ManyFaults_ReportsAllAtOnce()
    {
        const string toml = "[wall]\nminimum = 2\nmaximun = \"3 mm\"\n[conditioning]\ntaps = \"x\"\n";
        ProcedureException error = Assert.Throws<ProcedureException>(() => ProcedureText.Parse(toml, "p.toml"));
        Assert.Equal(["p.toml(2,11)", "p.toml(3,1)", "p.toml(5,8)"], error.Findings.Select(f => f.Place));
        Assert.StartsWith("3 faults.", error.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("[wall\n")]
    [InlineData("wall = \n")]
    [InlineData("[wall]\nminimum = \"2 mm\"\nminimum = \"3 mm\"\n")]
    [InlineData("[wall]\n[wall]\n")]
    [InlineData("a = \"\\UFFFFFFFF\"\n")]
    [InlineData("a = \"\\uD800\"\n")]
    [InlineData("\u0000")]
    [InlineData("a = 1e")]
    public void Parse_BrokenToml_IsATypedErrorWithPlace(string toml)
    {
        ProcedureException error = Assert.Throws<ProcedureException>(() => ProcedureText.Parse(toml, "p.toml"));
        Assert.All(error.Findings, finding => Assert.StartsWith("p.toml", finding.Place, StringComparison.Ordinal));
    }

    [Fact]
    public void Parse_DeepNestingOrHugeText_IsATypedError()
    {
        Assert.Throws<ProcedureException>(() => ProcedureText.Parse("a = " + new string('[', 100_000), "p.toml"));
        Assert.Throws<ProcedureException>(() =>
            ProcedureText.Parse("a = " + string.Concat(Enumerable.Repeat("{b=", 100_000)), "p.toml")
        );
        Assert.Throws<ProcedureException>(() =>
            ProcedureText.Parse("[" + string.Join('.', Enumerable.Repeat("a", 100_000)) + "]", "p.toml")
        );
        ProcedureException error = Assert.Throws<ProcedureException>(() =>
            ProcedureText.Parse(new string(' ', 5 << 20), "p.toml")
        );
        Assert.Contains("at most", error.What, StringComparison.Ordinal);
    }
}
