using EchoToThickness.Simulation.Instruments;
using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Simulation.Waves;
using Xunit;

namespace EchoToThickness.Simulation.Tests.Instruments;

/// <summary>One cell of 8.88 mm steel (2d/c = 3 us) under water, changed one fact at a time.</summary>
public sealed class FailureLabelsTests
{
    private static readonly LabelLimits Limits = new(2e-6, 16e-6, 0.4e-6, 0, 0.002);

    private static readonly EchoFacts Sound = EchoFacts.None with
    {
        InterfaceSeconds = 4.4e-6,
        InterfaceAmplitude = 0.7,
        MetalSeconds = 4.4e-6,
        BackWallSeconds = 7.4e-6,
        BackWallAmplitude = -0.09,
        SecondBackWallAmplitude = -0.07,
    };

    [Fact]
    public void SoundCell_HasNoLabel() => Assert.Equal(PlantedFailure.None, FailureLabels.For(Sound, 0, Limits));

    [Fact]
    public void CellWithoutEchoes_HasNoLabel() =>
        Assert.Equal(
            PlantedFailure.None,
            FailureLabels.For(EchoFacts.None, 0, Limits with { ReceiverOpensSeconds = 1e-6 })
        );

    [Theory]
    // T_L = n 2d/c: 2.15, 4.30 and 6.45 mm of water under 8.6 mm of steel cross back walls 1, 2, 3; here T_L = 3, 6 and 9 us.
    [InlineData(3.0, true)]
    [InlineData(3.19, true)]
    [InlineData(3.21, false)]
    [InlineData(3.7, false)]
    [InlineData(6.0, true)]
    [InlineData(6.21, false)]
    // The second multiple (2 T_L = 3, 9 us) crosses too.
    [InlineData(4.5, true)]
    [InlineData(1.5, true)]
    [InlineData(2.2, false)]
    public void Multiple_OnABackWall_IsLabelledWithinHalfAPulse(double transitMicroseconds, bool expected)
    {
        double transit = transitMicroseconds * 1e-6;
        EchoFacts facts = Sound with
        {
            InterfaceSeconds = transit,
            MetalSeconds = transit,
            BackWallSeconds = transit + 3e-6,
            CouplantMultipleSeconds = 2 * transit,
            CouplantMultipleAmplitude = 0.2,
        };
        PlantedFailure labels = FailureLabels.For(facts, 0, Limits with { StartSeconds = 0 });
        Assert.Equal(expected ? PlantedFailure.CouplantMultiple : PlantedFailure.None, labels);
    }

    [Fact]
    public void Multiple_TooWeakToDisturb_IsNotLabelled()
    {
        EchoFacts facts = Sound with { CouplantMultipleSeconds = 7.4e-6, CouplantMultipleAmplitude = 0.0089 };
        LabelLimits quiet = Limits with { NoiseFraction = 0 };
        Assert.Equal(PlantedFailure.None, FailureLabels.For(facts, 0, quiet));
        facts.CouplantMultipleAmplitude = 0.0091;
        Assert.Equal(PlantedFailure.CouplantMultiple, FailureLabels.For(facts, 0, quiet));
        Assert.Equal(PlantedFailure.None, FailureLabels.For(facts, 0, quiet with { NoiseFraction = 0.0031 }));
    }

    [Fact]
    public void Multiple_LikeAnInterface_IsLabelledWhileInTheRecord()
    {
        EchoFacts facts = Sound with { CouplantMultipleSeconds = 8.6e-6, CouplantMultipleAmplitude = 0.22 };
        Assert.Equal(PlantedFailure.SecondInterface, FailureLabels.For(facts, 0, Limits));
        facts.CouplantMultipleAmplitude = 0.2;
        Assert.Equal(PlantedFailure.None, FailureLabels.For(facts, 0, Limits));
    }

    [Theory]
    [InlineData(0.0, PlantedFailure.None)]
    [InlineData(3.0, PlantedFailure.None)]
    [InlineData(3.2, PlantedFailure.SaturatedInterface)]
    // 0.09 falls below 2 × 0.002 at -27.04 dB.
    [InlineData(-27.0, PlantedFailure.None)]
    [InlineData(-27.1, PlantedFailure.WeakSignal)]
    public void Gain_OfTheCell_Counts(double gainDecibels, PlantedFailure expected) =>
        Assert.Equal(expected, FailureLabels.For(Sound, gainDecibels, Limits));

    [Theory]
    [InlineData(7.59e-6, true)]
    [InlineData(7.61e-6, false)]
    public void Record_WithoutRoomForTheBackWall_IsClipped(double endSeconds, bool clipped) =>
        Assert.Equal(
            clipped ? PlantedFailure.ClippedTimeBase : PlantedFailure.None,
            FailureLabels.For(Sound, 0, Limits with { EndSeconds = endSeconds })
        );

    [Fact]
    public void Record_StartingBehindTheInterface_IsClipped() =>
        Assert.Equal(
            PlantedFailure.ClippedTimeBase,
            FailureLabels.For(Sound, 0, Limits with { StartSeconds = 4.5e-6 })
        );

    [Theory]
    [InlineData(4.19e-6, PlantedFailure.None)]
    [InlineData(4.21e-6, PlantedFailure.DeadTime)]
    public void Receiver_OpeningLate_HidesTheInterface(double opensSeconds, PlantedFailure expected) =>
        Assert.Equal(expected, FailureLabels.For(Sound, 0, Limits with { ReceiverOpensSeconds = opensSeconds }));

    [Fact]
    public void BackWalls_ScatteredWeakOrConverted_AreLabelled()
    {
        Assert.Equal(PlantedFailure.ScatteredPit, FailureLabels.For(Sound with { Coherence = 0.49 }, 0, Limits));
        Assert.Equal(
            PlantedFailure.DoubledWall,
            FailureLabels.For(Sound with { BackWallAmplitude = -0.05 }, 0, Limits)
        );
        Assert.Equal(
            PlantedFailure.ModeConverted,
            FailureLabels.For(Sound with { ModeConvertedAmplitude = 0.0176, ModeConvertedSeconds = 8.6e-6 }, 0, Limits)
        );
        Assert.Equal(
            PlantedFailure.None,
            FailureLabels.For(Sound with { ModeConvertedAmplitude = 0.0174, ModeConvertedSeconds = 8.6e-6 }, 0, Limits)
        );
    }
}
