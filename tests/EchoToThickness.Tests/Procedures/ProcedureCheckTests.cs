using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using Xunit;

namespace EchoToThickness.Tests.Procedures;

public sealed class ProcedureCheckTests
{
    private const string Gate = "[[gate]]\nname = \"a\"\nstart = \"1 us\"\nwidth = \"2 us\"\n";
    private const string GateB = "[[gate]]\nname = \"b\"\nstart = \"1 us\"\nwidth = \"2 us\"\n";

    [Theory]
    [InlineData("[conditioning]\nband_low = \"4 MHz\"", "conditioning.band_low", "without 'band_high'")]
    [InlineData("[conditioning]\nband_high = \"4 MHz\"", "conditioning.band_high", "without 'band_low'")]
    [InlineData(
        "[conditioning]\nband_low = \"9 MHz\"\nband_high = \"4 MHz\"",
        "conditioning.band_high",
        "not above its start at 9 MHz"
    )]
    [InlineData("[conditioning]\ntaps = 64", "conditioning.taps", "taps = 64 is even")]
    [InlineData("[conditioning]\naverage_beams = 2", "conditioning.average_beams", "is even")]
    [InlineData(
        "[interface]\nsearch_start = \"5 us\"\nsearch_end = \"5 us\"",
        "interface.search_end",
        "not behind its start at 5 us"
    )]
    [InlineData("[interface]\nlevel = \"-6 dB of followed\"", "interface.level", "follows no earlier echo")]
    [InlineData(
        "[interface]\nlevel = \"120 % of full scale\"",
        "interface.level",
        "No signal can reach 120 % of full scale"
    )]
    [InlineData("[interface]\nlevel = \"3 dB of strongest\"", "interface.level", "No signal can reach")]
    [InlineData("[interface]\npolarity = \"opposite\"", "interface.polarity", "follows no earlier echo")]
    [InlineData(
        "[interface]\npick = \"peak\"\nflank_fraction = \"50 %\"",
        "interface.flank_fraction",
        "the pick is \"peak\""
    )]
    [InlineData(
        "[interface]\ntrack = \"path\"\nmax_jump = \"0 us\"",
        "interface.max_jump",
        "no change of the interface"
    )]
    [InlineData(
        "[conditioning]\nsignal = \"rectified\"\n[interface]\npick = \"zero-crossing\"",
        "interface.pick",
        "the rectified signal has lost"
    )]
    [InlineData(
        "[conditioning]\nsignal = \"envelope\"\n[interface]\npick = \"correlation\"",
        "interface.pick",
        "the envelope signal has lost"
    )]
    [InlineData(
        "[conditioning]\nsignal = \"envelope\"\n[interface]\npolarity = \"positive\"",
        "interface.polarity",
        "needs the sign"
    )]
    [InlineData(Gate + Gate, "gate[2].name", "already called 'a'")]
    [InlineData("[[gate]]\nname = \"pulse\"\nstart = \"1 us\"\nwidth = \"2 us\"", "gate[1].name", "reserved")]
    [InlineData("[[gate]]\nname = \"\"\nstart = \"1 us\"\nwidth = \"2 us\"", "gate[1].name", "no name")]
    [InlineData(Gate + "follows = \"a\"", "gate[1].follows", "follows itself")]
    [InlineData(Gate + "follows = \"b\"\n" + GateB, "gate[1].follows", "comes later")]
    [InlineData(Gate + "follows = \"interfase\"", "gate[1].follows", "is no gate")]
    [InlineData("[[gate]]\nname = \"a\"\nstart = \"1 us\"\nwidth = \"0 mm\"", "gate[1].width", "width is 0 mm")]
    [InlineData(
        "[[gate]]\nname = \"a\"\nstart = \"-1 us\"\nwidth = \"2 us\"\nfollows = \"pulse\"",
        "gate[1].start",
        "before the pulse"
    )]
    [InlineData(Gate + "follows = \"pulse\"\nlevel = \"-6 dB of followed\"", "gate[1].level", "no measured amplitude")]
    [InlineData(Gate + "follows = \"pulse\"\npolarity = \"same\"", "gate[1].polarity", "no measured sign")]
    [InlineData(
        Gate
            + "[[gate.level_by_depth]]\ndepth = \"2 mm\"\nchange = \"0 dB\"\n[[gate.level_by_depth]]\ndepth = \"2 mm\"\nchange = \"3 dB\"",
        "gate[1].level_by_depth[2].depth",
        "does not lie behind"
    )]
    [InlineData("[wall]\nminimum = \"9 mm\"\nmaximum = \"9 mm\"", "wall.maximum", "not above its start at 9 mm")]
    [InlineData("[wall]\nnominal = \"30 mm\"", "wall.nominal", "outside the range 1.2 mm to 15 mm")]
    [InlineData("[pairing]\nrule = \"difference\"", "pairing.to", "needs the echo")]
    [InlineData(Gate + "[pairing]\nrule = \"difference\"\nto = \"aa\"", "pairing.to", "'aa' is no gate")]
    [InlineData(Gate + "[pairing]\nrule = \"difference\"\nfrom = \"a\"\nto = \"a\"", "pairing.to", "with itself")]
    [InlineData(Gate + "[pairing]\nto = \"a\"", "pairing.to", "only; the rule is \"train\"")]
    [InlineData("[pairing]\nfirst_wall = \"x\"", "pairing.first_wall", "'x' is no gate")]
    [InlineData(Gate + "[pairing]\nfirst_wall = \"a\"\nsecond_wall = \"a\"", "pairing.second_wall", "the same gate")]
    [InlineData(Gate + "[pairing]\nrule = \"agreement\"", "pairing.rule", "needs gates on back-wall echo 1 and 2")]
    [InlineData(
        "[[velocity.calibration]]\nthickness = \"5 mm\"\ntime = \"2 us\"\n[[velocity.calibration]]\nthickness = \"9 mm\"\ntime = \"3 us\"\n[correction]\nzero = \"1 ns\"",
        "correction.zero",
        "given here once more"
    )]
    [InlineData(
        "[[velocity.calibration]]\nthickness = \"5 mm\"\ntime = \"2 us\"\ntime_uncertainty = \"0 ns\"\nthickness_uncertainty = \"0 mm\"",
        "velocity.calibration[1].time_uncertainty",
        "cannot be weighted"
    )]
    public void Parse_Contradiction_NamesKeyAndFix(string toml, string key, string what)
    {
        ProcedureException error = Assert.Throws<ProcedureException>(() => ProcedureText.Parse(toml, "p.toml"));
        ProcedureFinding finding = Assert.Single(error.Findings);
        Assert.Equal(key, finding.Key);
        Assert.Contains(what, finding.What, StringComparison.Ordinal);
        Assert.NotEmpty(finding.Remedy);
        Assert.StartsWith("p.toml(", finding.Place, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(
        "[conditioning]\nband_low = \"4 MHz\"\nband_high = \"50 MHz\"",
        "conditioning.band_high",
        "not below half the sample rate of plate (50 MHz)"
    )]
    [InlineData(
        "[conditioning]\nband_low = \"4 MHz\"\nband_high = \"9 MHz\"\ntaps = 511",
        "conditioning.taps",
        "longer than the A-scans"
    )]
    [InlineData(
        "[interface]\nsearch_start = \"7 us\"",
        "interface.search_start",
        "after the record of plate (1 us to 5.99 us)"
    )]
    [InlineData("[interface]\nsearch_end = \"0.5 us\"", "interface.search_end", "before the record")]
    [InlineData(
        "[[gate]]\nname = \"a\"\nstart = \"6 us\"\nwidth = \"2 us\"",
        "gate[1].start",
        "starts at the earliest at 7 us"
    )]
    [InlineData(
        "[[gate]]\nname = \"a\"\nfollows = \"pulse\"\nstart = \"0 us\"\nwidth = \"1 us\"",
        "gate[1].width",
        "ends at 1 us, before"
    )]
    [InlineData("[correction]\ncurvature = true", "correction.curvature", "needs the")]
    public void Against_Impossible_NamesKeyAndFix(string toml, string key, string what)
    {
        ProcedureException error = Assert.Throws<ProcedureException>(() =>
            ProcedureCheck.Against(ProcedureText.Parse(toml, "p.toml"), Stack())
        );
        Assert.Equal(key, error.Findings[0].Key);
        Assert.Contains(what, error.Findings[0].What, StringComparison.Ordinal);
        Assert.NotEmpty(error.Findings[0].Remedy);
    }

    [Fact]
    public void Against_NoVelocityAnywhere_SaysWhereToWriteOne()
    {
        StackInfo stack = Stack() with { Acquisition = new AcquisitionFacts() };
        ProcedureException error = Assert.Throws<ProcedureException>(() =>
            ProcedureCheck.Against(new Procedure(), stack)
        );
        Assert.Equal("velocity", error.Findings[0].Key);
        Assert.Contains("velocity.value", error.Remedy, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("[interface]\npick = \"zero-crossing\"", "interface.pick")]
    [InlineData("[interface]\npolarity = \"negative\"", "interface.polarity")]
    [InlineData("[conditioning]\nsignal = \"envelope\"", "conditioning.signal")]
    [InlineData("[conditioning]\nband_low = \"4 MHz\"\nband_high = \"9 MHz\"", "conditioning.band_low")]
    public void Against_RectifiedStack_RefusesWhatNeedsTheSign(string toml, string key)
    {
        StackInfo stack = Stack();
        stack = stack with { Acquisition = stack.Acquisition with { Form = SignalForm.Rectified } };
        ProcedureException error = Assert.Throws<ProcedureException>(() =>
            ProcedureCheck.Against(ProcedureText.Parse(toml, "p.toml"), stack)
        );
        Assert.Equal(key, Assert.Single(error.Findings).Key);
    }

    [Fact]
    public void Against_UnrelatedCells_RefusesAveragingAndWarnsOfTracking()
    {
        StackInfo stack = Stack() with { Neighbours = NeighbourAxes.None };
        Procedure averaging = ProcedureText.Parse("[conditioning]\naverage_scans = 3", "p.toml");
        Assert.Contains(
            "declared unrelated",
            Assert.Throws<ProcedureException>(() => ProcedureCheck.Against(averaging, stack)).What,
            StringComparison.Ordinal
        );
        Procedure tracking = ProcedureText.Parse("[interface]\ntrack = \"path\"", "p.toml");
        Assert.Contains(
            ProcedureCheck.Against(tracking, stack),
            w => w.StartsWith("interface.track", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void Against_SoundProcedure_HasNoWarning()
    {
        Procedure p = ProcedureText.Parse("[wall]\nmaximum = \"10 mm\"\n" + Gate, "p.toml");
        Assert.Empty(ProcedureCheck.Against(p, Stack()));
    }

    [Fact]
    public void Against_GateAndWallBeyondRecord_Warns()
    {
        Procedure p = ProcedureText.Parse(
            "[wall]\nmaximum = \"40 mm\"\n[[gate]]\nname = \"a\"\nstart = \"1 us\"\nwidth = \"20 us\"",
            "p.toml"
        );
        IReadOnlyList<string> warnings = ProcedureCheck.Against(p, Stack());
        Assert.Equal(2, warnings.Count);
        Assert.Contains("the record ends at 5.99 us", warnings[0], StringComparison.Ordinal);
        Assert.StartsWith("wall.maximum", warnings[1], StringComparison.Ordinal);
    }

    private static StackInfo Stack() =>
        new()
        {
            Name = "plate",
            Shape = new StackShape(3, 4, 500),
            SampleType = SampleType.Int16,
            TimeBase = new TimeBase { SampleRateHz = 100e6, StartSeconds = 1e-6 },
            Amplitude = AmplitudeScale.For(SampleType.Int16),
            Acquisition = new AcquisitionFacts { VelocityMetresPerSecond = 5920, FrequencyHz = 7e6 },
        };

    [Fact]
    public void Against_DiffractionWithoutAperture_WarnsThatNothingIsCorrected()
    {
        Procedure procedure = ProcedureText.Parse("[correction]\ndiffraction = true", "p.toml");
        StackInfo stack = Stack() with
        {
            Acquisition = new AcquisitionFacts { FrequencyHz = 7e6, VelocityMetresPerSecond = 5920 },
        };
        Assert.Contains(
            ProcedureCheck.Against(procedure, stack),
            warning => warning.Contains("correction.diffraction", StringComparison.Ordinal)
        );
    }
}
