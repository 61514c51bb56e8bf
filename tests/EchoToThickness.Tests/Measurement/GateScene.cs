using System.Runtime.InteropServices;
using EchoToThickness.Measurement;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Velocity;

namespace EchoToThickness.Tests.Measurement;

/// <summary>Small stacks of Gaussian pulses, single precision, for tests of the gate engine.</summary>
internal static class GateScene
{
    public const double SampleRateHz = 100e6;
    public const double FrequencyHz = 7e6;

    /// <summary>Adds a pulse of 60 % bandwidth whose centre lies at a position in samples.</summary>
    public static void Add(Span<float> samples, double position, double amplitude)
    {
        // Half amplitude at f (1 +- 0.3): tau = sqrt(2 ln 2) / (pi B f).
        double tau = Math.Sqrt(2 * Math.Log(2)) / (Math.PI * 0.6 * FrequencyHz) * SampleRateHz;
        for (int i = Math.Max(0, (int)(position - 6 * tau)); i < Math.Min(samples.Length, position + 6 * tau); i++)
        {
            double u = i - position;
            samples[i] += (float)(
                amplitude * Math.Exp(-u * u / (2 * tau * tau)) * Math.Cos(2 * Math.PI * FrequencyHz / SampleRateHz * u)
            );
        }
    }

    /// <summary>Adds Gaussian noise.</summary>
    public static void Noise(Span<float> samples, double sigma, Random random)
    {
        for (int i = 0; i < samples.Length; i++)
            samples[i] += (float)(
                sigma * Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble())
            );
    }

    public static MemoryAScanSource Stack(
        int scans,
        int beams,
        float[] samples,
        NeighbourAxes neighbours = NeighbourAxes.Both,
        byte[]? present = null,
        double startSeconds = 0
    ) =>
        new(
            new StackInfo
            {
                Name = "scene",
                Shape = new StackShape(scans, beams, samples.Length / (scans * beams)),
                SampleType = SampleType.Float32,
                TimeBase = new TimeBase { SampleRateHz = SampleRateHz, StartSeconds = startSeconds },
                Amplitude = AmplitudeScale.For(SampleType.Float32),
                Acquisition = new AcquisitionFacts { FrequencyHz = FrequencyHz, BandwidthFraction = 0.6 },
                Neighbours = neighbours,
            },
            MemoryMarshal.AsBytes<float>(samples).ToArray(),
            present
        );

    public static MeasurementPlan Plan(StackInfo stack, Procedure procedure, double velocityMetresPerSecond = 5920) =>
        MeasurementPlan.Compile(
            procedure,
            stack,
            new ResolvedVelocity
            {
                MetresPerSecond = velocityMetresPerSecond,
                UncertaintyMetresPerSecond = 10,
                Source = "test",
            }
        );

    /// <summary>Interface by its peak, wall 1 riding on it, wall 2 riding on wall 1; everything relative or to full scale.</summary>
    public static Procedure Procedure(PickRule pick = PickRule.Peak) =>
        new()
        {
            Conditioning = new ConditioningSettings { RemoveOffset = false },
            Interface = new InterfaceSettings { Pick = pick, SearchEndSeconds = 3e-6 },
            Gates =
            [
                new GateSettings
                {
                    Name = "wall1",
                    Start = GateExtent.FromSeconds(0.6e-6),
                    Width = GateExtent.FromSeconds(2.5e-6),
                    Level = new LevelRule(0.5, LevelReference.Strongest),
                    Take = EchoChoice.First,
                    Pick = pick,
                },
                new GateSettings
                {
                    Name = "wall2",
                    Follows = "wall1",
                    Start = GateExtent.FromSeconds(0.6e-6),
                    Width = GateExtent.FromSeconds(2.5e-6),
                    Level = new LevelRule(0.5, LevelReference.Strongest),
                    Take = EchoChoice.First,
                    Pick = pick,
                },
            ],
            Pairing = new PairingSettings { Rule = PairingRule.Difference, To = "wall1" },
        };
}
