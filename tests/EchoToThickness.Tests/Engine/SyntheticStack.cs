using EchoToThickness.Stacks;

namespace EchoToThickness.Tests.Engine;

/// <summary>Small stacks with an exactly known wall: Gabor pulses, interface positive, back walls inverted.</summary>
internal static class SyntheticStack
{
    public const double Velocity = 5920;
    public const double SampleRateHz = 100e6;
    public const double FrequencyHz = 7e6;

    /// <summary>Adds a Gabor pulse of 60 % bandwidth (-6 dB) centred at a time in samples.</summary>
    public static void AddPulse(Span<float> aScan, double centreSamples, double amplitude)
    {
        double sigmaFrequency = 0.6 * FrequencyHz / (2 * Math.Sqrt(2 * Math.Log(2)));
        double sigmaSamples = SampleRateHz / (2 * Math.PI * sigmaFrequency);
        int from = Math.Max(0, (int)(centreSamples - 6 * sigmaSamples));
        int to = Math.Min(aScan.Length, (int)(centreSamples + 6 * sigmaSamples));
        for (int i = from; i < to; i++)
        {
            double u = (i - centreSamples) / sigmaSamples;
            aScan[i] += (float)(
                amplitude
                * Math.Exp(-0.5 * u * u)
                * Math.Cos(2 * Math.PI * FrequencyHz / SampleRateHz * (i - centreSamples))
            );
        }
    }

    /// <summary>A stack whose interface drifts and whose wall differs from cell to cell; int16, full scale 32767.</summary>
    /// <param name="wallMetres">Wall of cell (scan, beam).</param>
    public static MemoryAScanSource Build(
        int scans,
        int beams,
        Func<int, int, double> wallMetres,
        NeighbourAxes neighbours = NeighbourAxes.Both
    )
    {
        const int samples = 1000;
        var stored = new short[scans * beams * samples];
        var aScan = new float[samples];
        for (int scan = 0; scan < scans; scan++)
        for (int beam = 0; beam < beams; beam++)
        {
            Array.Clear(aScan);
            double interfaceSamples = 150 + 0.37 * scan + 0.11 * beam;
            double spacing = 2 * wallMetres(scan, beam) / Velocity * SampleRateHz;
            AddPulse(aScan, interfaceSamples, 0.7);
            for (int echo = 1; interfaceSamples + echo * spacing < samples - 40 && echo < 6; echo++)
                AddPulse(aScan, interfaceSamples + echo * spacing, -0.3 * Math.Pow(0.7, echo - 1));
            for (int i = 0; i < samples; i++)
                stored[(scan * beams + beam) * samples + i] = (short)Math.Round(aScan[i] * 32767);
        }
        var info = new StackInfo
        {
            Name = "synthetic",
            Shape = new StackShape(scans, beams, samples),
            SampleType = SampleType.Int16,
            TimeBase = new TimeBase { SampleRateHz = SampleRateHz, StartSeconds = 1.5e-6 },
            Amplitude = AmplitudeScale.For(SampleType.Int16),
            Neighbours = neighbours,
            Acquisition = new AcquisitionFacts
            {
                FrequencyHz = FrequencyHz,
                BandwidthFraction = 0.6,
                VelocityMetresPerSecond = Velocity,
            },
        };
        return MemoryAScanSource.From<short>(info, stored);
    }
}
