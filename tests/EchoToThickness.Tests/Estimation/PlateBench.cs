using EchoToThickness.Echoes;
using EchoToThickness.Estimation;
using EchoToThickness.Procedures;
using EchoToThickness.Signals;
using EchoToThickness.Tests.Engine;

namespace EchoToThickness.Tests.Estimation;

/// <summary>Records of a plate under water (closed form of the layered medium: a geometric series) and one estimator on them.</summary>
internal sealed class PlateBench
{
    public const int Samples = 1000;
    public const double Front = 150;
    public const double Interface = 0.7;

    /// <summary>Steel under water, 1.5 dB lost at the far wall: first wall 0.075 of full scale, 0.79 from echo to echo.</summary>
    public const double Wall = 0.0751;
    public const double Decay = 0.79;

    public static readonly EchoScale Scale = new(SyntheticStack.SampleRateHz, SyntheticStack.FrequencyHz, 0.6);

    private readonly IThicknessEstimator _estimator;
    private readonly EchoRecord _record = new(Samples, Scale, 0, KernelPaths.Best);
    private readonly EstimationWorkspace _workspace;

    public PlateBench(EstimationSettings settings)
    {
        _estimator = EstimatorFamily.Create(settings);
        _workspace = new EstimationWorkspace(Samples, Scale, settings.Reference, [.. settings.CalibrationEcho]);
    }

    public static double MetresPerSample => SyntheticStack.Velocity / 2 / SyntheticStack.SampleRateHz;

    public EchoRecord Record => _record;

    /// <summary>Draws interface and walls.</summary>
    public static float[] Plate(double spacing, double front = Front, double decay = Decay)
    {
        var aScan = new float[Samples];
        SyntheticStack.AddPulse(aScan, front, Interface);
        double amplitude = Wall;
        for (double at = front + spacing; at < Samples + 60; at += spacing, amplitude *= decay)
            SyntheticStack.AddPulse(aScan, at, -amplitude);
        return aScan;
    }

    /// <summary>Adds white Gaussian noise (Box and Muller from a seeded generator).</summary>
    public static float[] Noisy(float[] aScan, double decibelsUnderWall, int seed)
    {
        double sigma = Wall * Math.Pow(10, -decibelsUnderWall / 20);
        var random = new Random(seed);
        for (int i = 0; i < aScan.Length; i++)
            aScan[i] += (float)(
                sigma * Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble())
            );
        return aScan;
    }

    public SpacingEstimate Measure(ReadOnlySpan<float> aScan, double lowSamples = 44, double highSamples = 480)
    {
        aScan.CopyTo(_record.Input);
        _record.Prepare(3.3, 0.3);
        _workspace.Begin(_record, 0, lowSamples, highSamples);
        return _estimator.Estimate(_workspace);
    }
}
