using EchoToThickness.Evidence;
using EchoToThickness.InterfaceSync;
using EchoToThickness.Measurement;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Tests.Measurement;
using Xunit;

namespace EchoToThickness.Tests.InterfaceSync;

public class InterfaceTrackerTests
{
    private const int Scans = 24;
    private const int Beams = 64;

    /// <summary>
    /// Lift-off from 1 to 6 mm of water (1.35 to 8.1 us) over the beams, tilted along the scans, 20 dB signal to noise. One A-scan in ten has no
    /// interface echo, one in twenty another echo 1.3 to 3 times as strong elsewhere in the record. Acceptance: at least 99.5 % of the cells
    /// on the right path: within half a period of the truth (at 20 dB a few peaks sit on the next half wave; they are not another path). "Common practice, no source": the figure is the project's own promise.
    /// </summary>
    [Theory]
    [InlineData(TrackRule.Path, NeighbourAxes.Both, 0.5 / GateScene.FrequencyHz)]
    [InlineData(TrackRule.Path, NeighbourAxes.Beam, 0.5 / GateScene.FrequencyHz)]
    // The ramp rises 0.1 us a beam; a median at the end of a line is one or two cells off: its promise is max_jump.
    [InlineData(TrackRule.Median, NeighbourAxes.Both, 0.2e-6)]
    public void Track_BlankedAndFalseEchoes_StaysOnTheRamp(
        TrackRule rule,
        NeighbourAxes neighbours,
        double toleranceSeconds
    )
    {
        (InterfaceStrip strip, double[] truth, bool[] blank, bool[] wrong) = Ramp(neighbours, rule, seed: 20250);
        var settings = new InterfaceSettings { Track = rule };
        InterfaceTracker.Track(strip, neighbours, settings);
        int right = 0;
        for (int cell = 0; cell < truth.Length; cell++)
        {
            (int scan, int beam) = (cell / Beams, cell % Beams);
            double error = Math.Abs(strip.ChosenSeconds(scan, beam) - truth[cell]);
            if (error <= toleranceSeconds)
                right++;
            if (blank[cell] && error <= toleranceSeconds)
                Assert.True(strip.IsTracked(scan, beam), $"Blanked cell ({scan}, {beam}) is not marked.");
        }
        Assert.True(right >= 0.995 * truth.Length, $"{right} of {truth.Length} cells are on the right path.");
        // The tracker had work to do: without it false and missing echoes are wrong.
        int before = Enumerable.Range(0, truth.Length).Count(cell => blank[cell] || wrong[cell]);
        Assert.True(before >= 0.1 * truth.Length);
    }

    [Fact]
    public void Track_CouplantStep_BothSidesKeepTheirOwnTimes()
    {
        var strip = new InterfaceStrip(6, 40);
        strip.Place(100, 6);
        for (int scan = 100; scan < 106; scan++)
        {
            for (int beam = 0; beam < 40; beam++)
                strip.SetCandidates(scan, beam, [new(beam < 17 ? 3.0e-6f : 4.5e-6f, 0.5f, 2f)]);
        }
        foreach (TrackRule rule in (TrackRule[])[TrackRule.Path, TrackRule.Median])
        {
            InterfaceTracker.Track(strip, NeighbourAxes.Both, new InterfaceSettings { Track = rule });
            for (int scan = 100; scan < 106; scan++)
            {
                for (int beam = 0; beam < 40; beam++)
                {
                    Assert.Equal(beam < 17 ? 3.0e-6f : 4.5e-6f, strip.ChosenSeconds(scan, beam));
                    Assert.False(strip.IsTracked(scan, beam));
                }
            }
        }
    }

    [Fact]
    public void Track_CouplantJitterOfATenthOfAMillimetre_NothingIsOverruled()
    {
        // 0.1 mm of water is 0.135 us; max_jump is 0.2 us.
        var random = new Random(4);
        var strip = new InterfaceStrip(20, 20);
        strip.Place(0, 20);
        var truth = new float[400];
        for (int cell = 0; cell < 400; cell++)
        {
            truth[cell] = (float)(4e-6 + 0.135e-6 * (random.NextDouble() - 0.5));
            strip.SetCandidates(cell / 20, cell % 20, [new(truth[cell], 0.5f, 1.5f)]);
        }
        InterfaceTracker.Track(strip, NeighbourAxes.Both, new InterfaceSettings { Track = TrackRule.Path });
        for (int cell = 0; cell < 400; cell++)
            Assert.Equal(truth[cell], strip.ChosenSeconds(cell / 20, cell % 20));
    }

    [Fact]
    public void Track_UnrelatedCells_NothingIsTied()
    {
        var strip = new InterfaceStrip(3, 9);
        strip.Place(0, 3);
        for (int scan = 0; scan < 3; scan++)
        {
            for (int beam = 0; beam < 9; beam++)
            {
                if (beam == 4 && scan == 1)
                    continue;
                strip.SetCandidates(scan, beam, [new(beam == 6 ? 9e-6f : 3e-6f, 0.5f, 2f), new(3e-6f, 0.4f, 0.5f)]);
            }
        }
        foreach (TrackRule rule in (TrackRule[])[TrackRule.Path, TrackRule.Median])
        {
            InterfaceTracker.Track(strip, NeighbourAxes.None, new InterfaceSettings { Track = rule });
            Assert.Equal(9e-6f, strip.ChosenSeconds(1, 6));
            Assert.True(float.IsNaN(strip.ChosenSeconds(1, 4)));
            Assert.False(strip.IsTracked(1, 4));
        }
    }

    [Fact]
    public void Track_AlongScansOnly_DoesNotLookAcrossBeams()
    {
        // Each beam has a couplant of its own; along scans all is smooth, with one missing echo.
        var strip = new InterfaceStrip(9, 5);
        strip.Place(0, 9);
        for (int scan = 0; scan < 9; scan++)
        {
            for (int beam = 0; beam < 5; beam++)
            {
                if (scan == 4 && beam == 2)
                    continue;
                strip.SetCandidates(scan, beam, [new(2e-6f + beam * 1e-6f + scan * 0.1e-6f, 0.5f, 2f)]);
            }
        }
        foreach (TrackRule rule in (TrackRule[])[TrackRule.Path, TrackRule.Median])
        {
            InterfaceTracker.Track(strip, NeighbourAxes.Scan, new InterfaceSettings { Track = rule });
            // The ramp is linear: between its neighbours the time is 4.4 us; single precision holds it to 5e-13 s.
            Assert.Equal(4.4e-6, strip.ChosenSeconds(4, 2), 2e-12);
            Assert.True(strip.IsTracked(4, 2));
            Assert.Equal(5.4e-6, strip.ChosenSeconds(4, 3), 2e-12);
        }
    }

    [Fact]
    public void Track_EmptyStripAndSingleCell_AreLeftAlone()
    {
        var strip = new InterfaceStrip(4, 4);
        strip.Place(0, 4);
        InterfaceTracker.Track(strip, NeighbourAxes.Both, new InterfaceSettings { Track = TrackRule.Path });
        Assert.True(float.IsNaN(strip.ChosenSeconds(2, 2)));
        var one = new InterfaceStrip(1, 1);
        one.Place(7, 1);
        one.SetCandidates(7, 0, [new(3e-6f, 0.5f, 1.5f)]);
        InterfaceTracker.Track(one, NeighbourAxes.Both, new InterfaceSettings { Track = TrackRule.Path });
        Assert.Equal(3e-6f, one.ChosenSeconds(7, 0));
        Assert.False(one.IsTracked(7, 0));
    }

    [Fact]
    public void Track_LongGap_EndsAreBridgedAndFilled()
    {
        // Twenty cells without any echo: longer than the gap that the slope limit can bridge.
        var strip = new InterfaceStrip(1, 60);
        strip.Place(0, 1);
        for (int beam = 0; beam < 60; beam++)
        {
            if (beam is < 20 or >= 40)
                strip.SetCandidates(0, beam, [new(3e-6f + beam * 0.05e-6f, 0.5f, 2f)]);
        }
        InterfaceTracker.Track(strip, NeighbourAxes.Beam, new InterfaceSettings { Track = TrackRule.Path });
        for (int beam = 0; beam < 60; beam++)
        {
            Assert.Equal(3e-6 + beam * 0.05e-6, strip.ChosenSeconds(0, beam), 3e-12);
            Assert.Equal(beam is >= 20 and < 40, strip.IsTracked(0, beam));
        }
    }

    private static (InterfaceStrip Strip, double[] Truth, bool[] Blank, bool[] Wrong) Ramp(
        NeighbourAxes neighbours,
        TrackRule rule,
        int seed
    )
    {
        const int samples = 900;
        var random = new Random(seed);
        var truth = new double[Scans * Beams];
        var blank = new bool[truth.Length];
        var wrong = new bool[truth.Length];
        var stack = new float[truth.Length * samples];
        for (int cell = 0; cell < truth.Length; cell++)
        {
            (int scan, int beam) = (cell / Beams, cell % Beams);
            Span<float> record = stack.AsSpan(cell * samples, samples);
            truth[cell] = 1.35e-6 + 6.5e-6 * beam / (Beams - 1) + 0.25e-6 * scan / (Scans - 1);
            double position = truth[cell] * GateScene.SampleRateHz;
            double kind = random.NextDouble();
            blank[cell] = kind < 0.10;
            wrong[cell] = kind is >= 0.10 and < 0.15;
            if (!blank[cell])
                GateScene.Add(record, position, 0.3);
            if (wrong[cell])
            {
                double other;
                do other = 30 + random.NextDouble() * 840;
                while (Math.Abs(other - position) < 40);
                GateScene.Add(record, other, 0.3 * (1.3 + 1.7 * random.NextDouble()));
            }
            GateScene.Noise(record, 0.03, random);
        }
        using MemoryAScanSource source = GateScene.Stack(Scans, Beams, stack, neighbours);
        Procedure procedure = GateScene.Procedure() with
        {
            Interface = new InterfaceSettings
            {
                Pick = PickRule.Peak,
                Take = EchoChoice.First,
                Level = new LevelRule(0.5, LevelReference.Strongest),
                Track = rule,
            },
        };
        var measurer = new GateMeasurer(GateScene.Plan(source.Info, procedure));
        var strip = new InterfaceStrip(Scans, Beams);
        strip.Place(0, Scans);
        using IAScanReader reader = source.OpenReader();
        AScanBlock block = reader.Lend(0, Scans, 0, Beams);
        measurer.FindInterfaces(block, 0, Scans, 0, Beams, strip);
        return (strip, truth, blank, wrong);
    }
}
