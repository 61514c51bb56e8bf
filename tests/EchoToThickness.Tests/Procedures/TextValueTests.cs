using CsCheck;
using EchoToThickness.Procedures;
using EchoToThickness.Units;
using Xunit;

namespace EchoToThickness.Tests.Procedures;

public sealed class TextValueTests
{
    [Theory]
    [InlineData("30 % of full scale", 0.3, LevelReference.FullScale)]
    [InlineData("-12 dB of strongest", 0.251188643150958, LevelReference.Strongest)]
    [InlineData("5 x noise", 5, LevelReference.Noise)]
    [InlineData("5\u00D7 noise", 5, LevelReference.Noise)]
    [InlineData("-20 dB of followed", 0.1, LevelReference.Followed)]
    [InlineData("50 % of followed", 0.5, LevelReference.Followed)]
    public void ParseText_Level_GivesRatioAndReference(string text, double ratio, LevelReference reference)
    {
        LevelRule level = LevelRule.ParseText(text);
        // 20 log10 of amplitude: 10^(dB/20), rounded once by the power function.
        Assert.Equal(ratio, level.Ratio, 1e-15);
        Assert.Equal(reference, level.Reference);
        Assert.Equal(level, LevelRule.ParseText(level.ToText()));
    }

    [Theory]
    [InlineData("30 %", "does not say what the level is measured against")]
    [InlineData("30 of full scale", "has no unit")]
    [InlineData("30 % of full", "unknown reference 'full'")]
    [InlineData("5 noise", "not a multiple of the noise")]
    [InlineData("5 % x noise", "not a multiple of the noise")]
    [InlineData("x noise", "not a multiple of the noise")]
    [InlineData("0 % of full scale", "not a level above zero")]
    [InlineData("-5 x noise", "not a level above zero")]
    [InlineData("5,5 x noise", "not a multiple of the noise")]
    public void ParseText_WrongLevel_SaysWhat(string text, string what)
    {
        UnitException error = Assert.Throws<UnitException>(() => LevelRule.ParseText(text));
        Assert.Contains(what, error.What, StringComparison.Ordinal);
        Assert.NotEmpty(error.Remedy);
    }

    [Theory]
    [InlineData("-6 dB of strongest")]
    [InlineData("-26 dB of followed")]
    [InlineData("30 % of full scale")]
    [InlineData("0.1 % of full scale")]
    [InlineData("7.5 x noise")]
    public void ToText_LevelAsPeopleWriteIt_IsUnchanged(string text) =>
        Assert.Equal(text, LevelRule.ParseText(text).ToText());

    [Fact]
    public void ToText_AnyPositiveRatio_ReadsBackEqual()
    {
        LevelReference[] all = Enum.GetValues<LevelReference>();
        Gen.Select(Gen.Double[1e-6, 1e3], Gen.Int[0, all.Length - 1])
            .Sample(
                (ratio, i) => LevelRule.ParseText(new LevelRule(ratio, all[i]).ToText()) == new LevelRule(ratio, all[i])
            );
    }

    [Fact]
    public void ParseText_Extent_IsTimeOrDepth()
    {
        Assert.Equal(GateExtent.FromSeconds(0.6e-6), GateExtent.ParseText("0.6 us"));
        Assert.Equal(GateExtent.FromDepth(2e-3), GateExtent.ParseText("2 mm"));
        // 2 mm of steel at 5920 m/s and back: 4 mm / 5920 m/s.
        Assert.Equal(4e-3 / 5920, GateExtent.ParseText("2 mm").ToSeconds(5920), 1e-18);
        UnitException error = Assert.Throws<UnitException>(() => GateExtent.ParseText("2 MHz"));
        Assert.Contains("neither a time nor a depth", error.What, StringComparison.Ordinal);
        Assert.Contains(
            "has no unit",
            Assert.Throws<UnitException>(() => GateExtent.ParseText("2")).What,
            StringComparison.Ordinal
        );
    }
}
