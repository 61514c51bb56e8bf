using EchoToThickness.Pairing;
using EchoToThickness.Studies;
using Xunit;

namespace EchoToThickness.Studies.Tests;

/// <summary>Expected numbers were worked out by hand from the definitions in the remarks of AccuracyScore.Of.</summary>
public sealed class AccuracyScoreTests
{
    private static readonly AccuracyRules SevenMegahertz = AccuracyRules.For(5920, 7e6);

    [Fact]
    public void For_SevenMegahertzSteel_CycleIsAnEighthOfTheWavelength() =>
        // 5920 / 7e6 / 8 = 0.10571 mm, 5920 / 5e6 / 8 = 0.148 mm.
        Assert.Equal(
            (0.105714e-3, 0.148e-3),
            (Math.Round(SevenMegahertz.CycleMetres, 9), AccuracyRules.For(5920, 5e6).CycleMetres)
        );

    [Fact]
    public void Of_MixedCells_CountsEachKindOnce()
    {
        // mm: exact, +0.1 (sound), +0.2 (cycle), +0.6 (gross thick), -0.9 (gross thin), missing, truth unknown, not scanned.
        float[] thickness = [8e-3f, 8.1e-3f, 8.2e-3f, 8.6e-3f, 7.1e-3f, float.NaN, 8e-3f, float.NaN];
        byte[] status = [0, 0, 0, 0, 0, (byte)CellStatus.NoBackWallEcho, 0, (byte)CellStatus.NotScanned];
        double[] truth = [8e-3, 8e-3, 8e-3, 8e-3, 8e-3, 8e-3, double.NaN, 8e-3];

        AccuracyScore score = AccuracyScore.Of(thickness, status, truth, [], SevenMegahertz);

        Assert.Equal(6, score.Cells);
        Assert.Equal(2, score.LeftOut);
        Assert.Equal(5, score.Measured);
        Assert.Equal(1, score.Missing);
        Assert.Equal((1, 1), (score.GrossThick, score.GrossThin));
        Assert.Equal(3, score.Cycle);
        // Tolerance: rounding of float32 at 8 mm is 0.5 nm.
        Assert.Equal(0.0, score.BiasMetres, 1e-9);
        Assert.Equal(Math.Sqrt((0.01 + 0.04 + 0.36 + 0.81) / 5) * 1e-3, score.RmseMetres, 1e-9);
        // |errors| sorted 0, 0.1, 0.2, 0.6, 0.9: position 0.95 * 4 = 3.8, so 0.6 + 0.8 * 0.3.
        Assert.Equal(0.84e-3, score.P95Metres, 1e-9);
        Assert.Equal(0.1e-3, score.MedianSoundMetres, 1e-9);
        Assert.Equal(Math.Sqrt(0.05 / 3) * 1e-3, score.RmseSoundMetres, 1e-9);
        Assert.Equal(1.0 / 6, score.MissingFraction, 12);
        Assert.Equal(2.0 / 6, score.GrossFraction, 12);
    }

    [Theory]
    [InlineData(3.0, 3.29, false)] // 10 % of 3 mm is 0.3 mm
    [InlineData(3.0, 3.31, true)]
    [InlineData(9.0, 9.49, false)] // 0.5 mm is smaller than 10 % of 9 mm
    [InlineData(9.0, 8.49, true)]
    public void Of_LimitOfGross_IsTheSmallerOfHalfAMillimetreAndTenPercent(
        double truthMillimetres,
        double valueMillimetres,
        bool gross
    )
    {
        AccuracyScore score = One(valueMillimetres, truthMillimetres, truthMillimetres);
        Assert.Equal(gross ? 1 : 0, score.Gross);
    }

    [Theory]
    [InlineData(8.0, 0, 0.0)] // on the axis
    [InlineData(5.0, 0, 0.0)] // the smallest wall
    [InlineData(6.5, 0, 0.0)] // between
    [InlineData(8.4, 0, 0.4)] // within half a millimetre of the axis
    [InlineData(8.6, 1, 0.6)] // gross thick
    [InlineData(4.6, 0, -0.4)]
    [InlineData(4.4, -1, -0.6)] // gross thin
    public void Of_TwoTruths_AcceptsEitherAndBetween(double value, int grossSide, double errorMillimetres)
    {
        AccuracyScore score = One(value, 8.0, 5.0);
        Assert.Equal(grossSide, (int)(score.GrossThick - score.GrossThin));
        Assert.Equal(errorMillimetres * 1e-3, score.BiasMetres, 1e-9);
    }

    [Fact]
    public void Of_ReadingAboveTheSmallestWall_IsCountedEvenWhereAccepted()
    {
        AccuracyScore score = One(8.0, 8.0, 5.0);
        Assert.Equal(0, score.Gross);
        Assert.Equal(1, score.ThickOverMinimum);
    }

    [Fact]
    public void Of_NothingMeasured_HasNoErrorsRatherThanZeroErrors()
    {
        AccuracyScore score = AccuracyScore.Of(
            [float.NaN],
            [(byte)CellStatus.NoInterfaceEcho],
            [8e-3],
            [],
            SevenMegahertz
        );
        Assert.Equal(1, score.Missing);
        Assert.True(double.IsNaN(score.BiasMetres) && double.IsNaN(score.RmseMetres) && double.IsNaN(score.P95Metres));
    }

    [Fact]
    public void Of_SpansThatDoNotFit_NamesTheCulprit() =>
        Assert.Equal(
            "truthMetres",
            Assert
                .Throws<ArgumentException>(() =>
                    AccuracyScore.Of(new float[2], new byte[2], new double[3], [], SevenMegahertz)
                )
                .ParamName
        );

    private static AccuracyScore One(double valueMillimetres, double axisMillimetres, double minimumMillimetres) =>
        AccuracyScore.Of(
            [(float)(valueMillimetres * 1e-3)],
            [0],
            [axisMillimetres * 1e-3],
            [minimumMillimetres * 1e-3],
            SevenMegahertz
        );
}
