using EchoToThickness.Stacks;
using EchoToThickness.Stacks.Sanity;
using EchoToThickness.Storage.Foreign;
using Xunit;

namespace EchoToThickness.Storage.Tests.Foreign;

/// <summary>Each classic mistake, planted in a clean stack, is named; the clean stack is not flagged.</summary>
public sealed class SanitySeededFaultTests
{
    private static readonly SanityScene Scene = new();

    private static SanityReport Inspect<T>(StackInfo info, T[] samples)
        where T : unmanaged =>
        SanityInspector.Inspect(
            MemoryAScanSource.From<T>(info, samples),
            cancellation: TestContext.Current.CancellationToken
        );

    private static SanityFinding AssertOnly(SanityReport report, SanityCheck check)
    {
        SanityFinding finding = Assert.Single(report.Findings);
        Assert.Equal(check, finding.Check);
        Assert.Matches("[0-9]", finding.Evidence);
        Assert.NotEmpty(finding.Remedy);
        return finding;
    }

    [Fact]
    public void Inspect_Clean_NoFinding()
    {
        SanityReport report = Inspect(Scene.Info, Scene.Counts);
        Assert.Empty(report.Findings);
        // The scene's own numbers: 7.5 MHz, 60 %, noise 220 counts, interface near 3 us, wall 6 mm = 2.03 us.
        Assert.InRange(report.Spectrum!.DominantHz, 7.2e6, 7.8e6);
        Assert.InRange(report.Spectrum.BandwidthFraction, 0.54, 0.72);
        Assert.InRange(report.NoiseRmsCounts, 210, 230);
        Assert.InRange(report.InterfaceSeconds, 2e-6, 4e-6);
        Assert.InRange(report.EchoSpacingSeconds, 1.8e-6, 2.3e-6);
        Assert.Equal(1, report.StrongestPositiveFraction);
        Assert.InRange(Math.Abs(report.QuietLevelCounts), 0, 15);
        Assert.True(report.Axes.SampleSpreadDecibels > 4 * report.Axes.ScanSpreadDecibels);
    }

    [Fact]
    public void Inspect_Twice_SameReport()
    {
        // The text of a record holds all its numbers.
        Assert.Equal(Inspect(Scene.Info, Scene.Counts).ToString(), Inspect(Scene.Info, Scene.Counts).ToString());
    }

    [Fact]
    public void Inspect_RateInMegahertzTakenForHertz_TimeUnit()
    {
        StackInfo info = Scene.Info with { TimeBase = Scene.Info.TimeBase with { SampleRateHz = 100 } };
        SanityFinding finding = AssertOnly(Inspect(info, Scene.Counts), SanityCheck.TimeUnit);
        Assert.Equal(SanitySeverity.Fault, finding.Severity);
        Assert.Contains("1e6", finding.Remedy, StringComparison.Ordinal);
        Assert.Contains("1E+08 Hz", finding.Remedy, StringComparison.Ordinal);
    }

    [Fact]
    public void Inspect_MicrosecondsForSeconds_TimeUnitWithoutStatedFrequency()
    {
        StackInfo info = Scene.Info with
        {
            TimeBase = new TimeBase { SampleRateHz = 1 / 0.01, StartSeconds = 1.5 },
            Acquisition = new AcquisitionFacts(),
        };
        SanityReport report = Inspect(info, Scene.Counts);
        Assert.Equal([SanityCheck.TimeUnit], report.Findings.Select(f => f.Check).Distinct());
        Assert.Contains(report.Findings, f => f.Remedy.Contains("1e6", StringComparison.Ordinal));
    }

    [Fact]
    public void Inspect_StartInMicroseconds_TimeUnit()
    {
        StackInfo info = Scene.Info with { TimeBase = Scene.Info.TimeBase with { StartSeconds = 1.5 } };
        SanityFinding finding = AssertOnly(Inspect(info, Scene.Counts), SanityCheck.TimeUnit);
        Assert.Contains("1.5 us", finding.Remedy, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(3230, 3230)] // the shear velocity given twice
    [InlineData(3230, 5920)] // the two exchanged
    public void Inspect_ShearVelocityInPlaceOfLongitudinal_MixedVelocities(double velocity, double shear)
    {
        StackInfo info = Scene.Info with
        {
            Acquisition = Scene.Info.Acquisition with
            {
                VelocityMetresPerSecond = velocity,
                ShearVelocityMetresPerSecond = shear,
            },
        };
        SanityFinding finding = Assert.Single(
            Inspect(info, Scene.Counts).Findings,
            f => f.Check == SanityCheck.MixedVelocities
        );
        Assert.Equal(SanitySeverity.Fault, finding.Severity);
    }

    [Fact]
    public void Inspect_HalfPath_FrequencyAndWallAgree()
    {
        StackInfo info = Scene.Info with
        {
            TimeBase = new TimeBase { SampleRateHz = 200e6, StartSeconds = 0.75e-6 },
        };
        SanityFinding finding = AssertOnly(Inspect(info, Scene.Counts), SanityCheck.HalfPath);
        Assert.Equal(SanitySeverity.Fault, finding.Severity);
        Assert.Contains("nominal", finding.Evidence, StringComparison.Ordinal);
        Assert.Contains("stated 7.50 MHz", finding.Evidence, StringComparison.Ordinal);
        Assert.Contains("path = \"half\"", finding.Remedy, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Inspect_HalfPath_OneFactIsEnough(bool byWall)
    {
        StackInfo info = Scene.Info with
        {
            TimeBase = new TimeBase { SampleRateHz = 200e6, StartSeconds = 0.75e-6 },
            Acquisition = byWall ? new AcquisitionFacts { VelocityMetresPerSecond = 5920 } : Scene.Info.Acquisition,
            Component = byWall ? Scene.Info.Component : new ComponentFacts(),
        };
        AssertOnly(Inspect(info, Scene.Counts), SanityCheck.HalfPath);
    }

    [Fact]
    public void Inspect_Rectified_Named()
    {
        AssertOnly(Inspect(Scene.Info, Scene.Map(c => (short)Math.Abs((int)c))), SanityCheck.RectifiedSamples);
        StackInfo declared = Scene.Info with
        {
            Acquisition = Scene.Info.Acquisition with { Form = SignalForm.Rectified },
        };
        Assert.Empty(Inspect(declared, Scene.Map(c => (short)Math.Abs((int)c))).Findings);
        AssertOnly(Inspect(declared, Scene.Counts), SanityCheck.SignedSamples);
    }

    [Fact]
    public void Inspect_RectifiedBytes_Named()
    {
        StackInfo info = Scene.Info with
        {
            SampleType = SampleType.UInt8,
            Amplitude = AmplitudeScale.For(SampleType.UInt8),
        };
        AssertOnly(Inspect(info, Scene.Map(c => (byte)(Math.Abs((int)c) / 100))), SanityCheck.RectifiedSamples);
    }

    [Fact]
    public void Inspect_OffsetBinary_Named()
    {
        // Offset binary words read as two's complement, and the other way round.
        AssertOnly(Inspect(Scene.Info, Scene.Map(c => unchecked((short)(c + 32768)))), SanityCheck.OffsetBinary);
        StackInfo unsigned = Scene.Info with
        {
            SampleType = SampleType.UInt16,
            Amplitude = AmplitudeScale.For(SampleType.UInt16),
        };
        AssertOnly(Inspect(unsigned, Scene.Map(c => unchecked((ushort)c))), SanityCheck.OffsetBinary);
        Assert.Empty(Inspect(unsigned, Scene.Map(c => (ushort)(c + 32768))).Findings);
        StackInfo bytes = Scene.Info with
        {
            SampleType = SampleType.Int8,
            Amplitude = AmplitudeScale.For(SampleType.Int8),
        };
        AssertOnly(Inspect(bytes, Scene.Map(c => unchecked((sbyte)(c / 200 + 128)))), SanityCheck.OffsetBinary);
        // Twelve bits of offset binary in a 16-bit word.
        SanityFinding twelve = AssertOnly(
            Inspect(Scene.Info, Scene.Map(c => (short)(c / 16 + 2048))),
            SanityCheck.OffsetBinary
        );
        Assert.Contains("zero = 2048", twelve.Remedy, StringComparison.Ordinal);
    }

    [Fact]
    public void Inspect_Offset_ZeroLevel()
    {
        SanityFinding finding = AssertOnly(
            Inspect(Scene.Info, Scene.Map(c => (short)(c + 2000))),
            SanityCheck.ZeroLevel
        );
        Assert.Contains("zero = ", finding.Remedy, StringComparison.Ordinal);
    }

    [Fact]
    public void Inspect_SampleAxisFirst_Transposed()
    {
        StackInfo info = Scene.Info with
        {
            Shape = new StackShape(SanityScene.Samples, SanityScene.Scans, SanityScene.Beams),
            ScanPositionsMetres = null,
            IndexPositionsMetres = null,
        };
        SanityReport report = Inspect(info, Scene.Permuted(2, 0, 1));
        SanityFinding finding = Assert.Single(report.Findings, f => f.Check == SanityCheck.TransposedAxes);
        Assert.Contains("declared as scan", finding.Remedy, StringComparison.Ordinal);
    }

    [Fact]
    public void Inspect_SampleAxisInTheMiddle_Transposed()
    {
        StackInfo info = Scene.Info with
        {
            Shape = new StackShape(SanityScene.Scans, SanityScene.Samples, SanityScene.Beams),
            IndexPositionsMetres = null,
        };
        SanityReport report = Inspect(info, Scene.Permuted(0, 2, 1));
        SanityFinding finding = Assert.Single(report.Findings, f => f.Check == SanityCheck.TransposedAxes);
        Assert.Contains("declared as beam", finding.Remedy, StringComparison.Ordinal);
    }

    [Fact]
    public void Inspect_ScanAndBeamExtentsSwapped_Transposed()
    {
        StackInfo info = Scene.Info with
        {
            Shape = new StackShape(SanityScene.Beams, SanityScene.Scans, SanityScene.Samples),
            ScanPositionsMetres = null,
            IndexPositionsMetres = null,
        };
        SanityFinding finding = AssertOnly(Inspect(info, Scene.Counts), SanityCheck.TransposedAxes);
        Assert.Contains("swapped", finding.Remedy, StringComparison.Ordinal);
    }

    [Fact]
    public void Inspect_Saturated_Named()
    {
        SanityReport report = Inspect(Scene.Info, Scene.Map(c => (short)Math.Clamp(2 * c, -32768, 32767)));
        AssertOnly(report, SanityCheck.Saturated);
        // A rail below the type's own range: a converter of 12 bits.
        report = Inspect(Scene.Info, Scene.Map(c => (short)Math.Clamp(c / 8, -2048, 2047)));
        AssertOnly(report, SanityCheck.Saturated);
        Assert.True(report.SaturatedFraction > 0.9);
    }

    [Fact]
    public void Inspect_RecordEndsBeforeSecondBackWall_ShortTimeBase()
    {
        // Interface to 4 us, wall 2 us: the second back wall needs 8 us, the record of 450 samples ends at 6 us.
        const int keep = 450;
        short[] cut = new short[SanityScene.Scans * SanityScene.Beams * keep];
        for (int cell = 0; cell < SanityScene.Scans * SanityScene.Beams; cell++)
            Scene.Counts.AsSpan(cell * SanityScene.Samples, keep).CopyTo(cut.AsSpan(cell * keep));
        StackInfo info = Scene.Info with { Shape = new StackShape(SanityScene.Scans, SanityScene.Beams, keep) };
        AssertOnly(Inspect(info, cut), SanityCheck.ShortTimeBase);
        AssertOnly(Inspect(info with { Component = new ComponentFacts() }, cut), SanityCheck.ShortTimeBase);
    }

    [Fact]
    public void Inspect_EveryFifthSample_CoarseSampling()
    {
        const int keep = SanityScene.Samples / 5;
        short[] thin = new short[SanityScene.Scans * SanityScene.Beams * keep];
        for (int i = 0; i < thin.Length; i++)
            thin[i] = Scene.Counts[i / keep * SanityScene.Samples + i % keep * 5];
        StackInfo info = Scene.Info with
        {
            Shape = new StackShape(SanityScene.Scans, SanityScene.Beams, keep),
            TimeBase = Scene.Info.TimeBase with { SampleRateHz = 20e6 },
        };
        AssertOnly(Inspect(info, thin), SanityCheck.CoarseSampling);
    }

    [Fact]
    public void Inspect_DeadBeams_Listed()
    {
        short[] samples = (short[])Scene.Counts.Clone();
        for (int i = 0; i < samples.Length; i++)
        {
            int beam = i / SanityScene.Samples % SanityScene.Beams;
            if (beam is 5 or 17)
                samples[i] = (short)(samples[i] / 50);
        }
        SanityReport report = Inspect(Scene.Info, samples);
        AssertOnly(report, SanityCheck.DeadBeams);
        Assert.Equal([5, 17], report.DeadBeams);
    }

    [Fact]
    public void Inspect_GainSwitched_GainStep()
    {
        short[] samples = (short[])Scene.Counts.Clone();
        for (int i = 28 * SanityScene.Beams * SanityScene.Samples; i < samples.Length; i++)
            samples[i] = (short)(samples[i] / 2);
        SanityFinding finding = AssertOnly(Inspect(Scene.Info, samples), SanityCheck.GainStep);
        // Half is -6.02 dB, from scan position 28 on.
        Assert.Contains("-6.0 dB", finding.Evidence, StringComparison.Ordinal);
        Assert.Contains("scan position 28", finding.Evidence, StringComparison.Ordinal);
    }

    [Fact]
    public void Inspect_NonFiniteZeroAndConstant_Counted()
    {
        StackInfo info = Scene.Info with { SampleType = SampleType.Float32, Amplitude = new AmplitudeScale(32767, 0) };
        float[] samples = Scene.Map(c => (float)c);
        samples[100] = float.NaN;
        samples[101] = float.PositiveInfinity;
        samples.AsSpan(3 * SanityScene.Samples, SanityScene.Samples).Clear();
        samples.AsSpan(9 * SanityScene.Samples, SanityScene.Samples).Fill(77);
        SanityReport report = Inspect(info, samples);
        Assert.Equal(2, report.NonFiniteSamples);
        Assert.Equal(2, report.ConstantAScans);
        Assert.Equal(
            [SanityCheck.NonFiniteSamples, SanityCheck.AllZeroAScans, SanityCheck.ConstantAScans],
            report.Findings.Select(f => f.Check)
        );
        Assert.Contains("scan 0, beam 3", report.Findings[1].Evidence, StringComparison.Ordinal);
    }

    [Fact]
    public void Inspect_AllZero_NoCrash()
    {
        SanityReport report = Inspect(Scene.Info, new short[Scene.Counts.Length]);
        AssertOnly(report, SanityCheck.AllZeroAScans);
        Assert.Null(report.Spectrum);
        StackInfo one = Scene.Info with
        {
            Shape = new StackShape(1, 1, 1),
            ScanPositionsMetres = null,
            IndexPositionsMetres = null,
        };
        AssertOnly(Inspect(one, new short[] { 7 }), SanityCheck.ConstantAScans);
    }

    [Fact]
    public void Inspect_Positions_DuplicatesAndBackwardRunsNamed()
    {
        double[] positions = [.. Scene.Info.ScanPositionsMetres!];
        positions[20] = positions[19];
        SanityFinding same = AssertOnly(
            Inspect(Scene.Info with { ScanPositionsMetres = positions }, Scene.Counts),
            SanityCheck.DuplicatePositions
        );
        Assert.Contains("index 20", same.Evidence, StringComparison.Ordinal);
        positions = [.. Scene.Info.ScanPositionsMetres!];
        for (int i = 30; i < 34; i++)
            positions[i] = positions[i - 1] - 0.4e-3;
        SanityFinding back = AssertOnly(
            Inspect(Scene.Info with { ScanPositionsMetres = positions }, Scene.Counts),
            SanityCheck.BackwardEncoder
        );
        Assert.Contains("4 of 35", back.Evidence, StringComparison.Ordinal);
        // A line scanned backwards throughout is no fault.
        double[] reversed = [.. Scene.Info.ScanPositionsMetres!.Reverse()];
        Assert.Empty(Inspect(Scene.Info with { ScanPositionsMetres = reversed }, Scene.Counts).Findings);
        double[] millimetres = [.. Scene.Info.ScanPositionsMetres!.Select(p => p * 1000)];
        AssertOnly(Inspect(Scene.Info with { ScanPositionsMetres = millimetres }, Scene.Counts), SanityCheck.FactUnit);
    }

    [Fact]
    public void Inspect_VelocityInMillimetresPerMicrosecond_FactUnit()
    {
        StackInfo info = Scene.Info with
        {
            Acquisition = Scene.Info.Acquisition with { VelocityMetresPerSecond = 5.92 },
            Component = new ComponentFacts(),
        };
        AssertOnly(Inspect(info, Scene.Counts), SanityCheck.FactUnit);
    }

    /// <summary>The same mistakes on full-wave data, where only stated facts differ between the stacks.</summary>
    [Theory]
    [InlineData("C4_dev")]
    [InlineData("C1E_dev")]
    [InlineData("C3_dev")]
    public void Inspect_FullWaveSeeded_Named(string stack)
    {
        using IAScanSource source = StackOpener
            .Open(ForeignFixtures.FullWave(stack), ForeignFixtures.Layout("fullwave"))[0]
            .Source;
        short[] counts = ForeignFixtures.ReadAll<short>(source);
        StackInfo info = source.Info;
        AssertOnly(
            Inspect(info with { TimeBase = info.TimeBase with { SampleRateHz = 100 } }, counts),
            SanityCheck.TimeUnit
        );
        AssertOnly(
            Inspect(info with { TimeBase = info.TimeBase with { SampleRateHz = 200e6 } }, counts),
            SanityCheck.HalfPath
        );
        AssertOnly(Inspect(info, Array.ConvertAll(counts, c => Math.Abs(c))), SanityCheck.RectifiedSamples);
        AssertOnly(
            Inspect(info, Array.ConvertAll(counts, c => unchecked((short)(c + 32768)))),
            SanityCheck.OffsetBinary
        );
        AssertOnly(Inspect(info, Array.ConvertAll(counts, c => (short)(c / 16 + 2048))), SanityCheck.OffsetBinary);
    }
}
