using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using EchoToThickness.Procedures;
using EchoToThickness.Signals;
using EchoToThickness.Stacks;

namespace EchoToThickness.Measurement.Fast;

/// <summary>
/// Interface flank, then one or two gated peaks, on the rectified signal without a filter. 16-bit and single-precision samples are
/// searched as stored; the other types are converted first. Only the samples that interface and gates need are looked at.
/// </summary>
public sealed class RectifiedGateMeasurer : FastMeasurer
{
    private readonly float[] _converted;
    private readonly float _scale;
    private readonly bool _words;
    private readonly bool _singles;
    private readonly int _interfaceCounts;
    private readonly double _interfaceLevelCounts;
    private readonly int[] _gateCounts = new int[2];

    private RectifiedGateMeasurer(MeasurementPlan plan, FastPlan fast, KernelPath path)
        : base(plan, fast, path)
    {
        AmplitudeScale scale = plan.Stack.Amplitude;
        _scale = (float)(1 / scale.FullScaleCounts);
        _words = plan.Stack.SampleType == SampleType.Int16 && scale.ZeroCounts == 0;
        _singles = plan.Stack.SampleType == SampleType.Float32 && scale is { ZeroCounts: 0, FullScaleCounts: 1 };
        _converted = _words || _singles ? [] : new float[plan.Stack.Shape.Samples];
        _interfaceCounts = Counts(fast.InterfaceLevel);
        _interfaceLevelCounts = fast.InterfaceLevel / (double)_scale;
        for (int gate = 0; gate < fast.GateCount; gate++)
            _gateCounts[gate] = Counts(fast.Gates[gate].Level);
    }

    /// <inheritdoc/>
    public override string Name => "rectified gates";

    /// <summary>Whether the measurer takes a plan.</summary>
    /// <param name="plan">The plan.</param>
    public static bool Accepts(MeasurementPlan plan) => Compile(plan) is not null;

    /// <summary>Prepares one thread's measurer.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="path">Implementation of the kernels; all give the same grid.</param>
    /// <returns>The measurer; null when it does not take the plan (see <see cref="Accepts"/>).</returns>
    public static RectifiedGateMeasurer? TryCreate(MeasurementPlan plan, KernelPath path) =>
        Compile(plan) is { } fast ? new RectifiedGateMeasurer(plan, fast, path) : null;

    private static FastPlan? Compile(MeasurementPlan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        ConditioningSettings conditioning = plan.Procedure.Conditioning;
        return conditioning.Signal == SignalChoice.Rectified && conditioning is { BandLowHz: null, BandHighHz: null }
            ? FastPlan.Compile(plan, 1)
            : null;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private protected override bool TryMeasure(ReadOnlySpan<byte> stored, int beam, ref FastCell cell)
    {
        if (_words)
            return MeasureWords(MemoryMarshal.Cast<byte, short>(stored), beam, ref cell);
        ReadOnlySpan<float> samples;
        if (_singles)
        {
            samples = MemoryMarshal.Cast<byte, float>(stored);
        }
        else
        {
            StoredSamples.ToFractions(stored, Stack.SampleType, Stack.Amplitude, _converted, Path);
            samples = _converted;
        }
        return MeasureSingles(samples, beam, ref cell);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private bool MeasureWords(ReadOnlySpan<short> samples, int beam, ref FastCell cell)
    {
        FastPlan plan = Plan;
        double recordStart = plan.StartOf(beam);
        (int first, int end) = plan.InterfaceWindow(recordStart);
        int at = Magnitude.FirstAtLeast(samples[first..end], _interfaceCounts, Path);
        if (at < 0)
            return true;
        int i = first + at;
        double position = i;
        if (at > 0)
        {
            int below = Math.Abs((int)samples[i - 1]);
            position = i - 1 + (_interfaceLevelCounts - below) / (Math.Abs((int)samples[i]) - below);
        }
        double interfacePosition = position;
        cell.InterfaceSeconds = recordStart + position * plan.IntervalSeconds + plan.OffsetSeconds;
        for (int k = 0; k < plan.GateCount; k++)
        {
            ref readonly FastGate gate = ref plan.Gates[k];
            double followed = gate.FollowsInterface ? interfacePosition : position;
            if (double.IsNaN(followed))
                continue;
            gate.Place(followed, samples.Length, out int low, out int high);
            int peak = low + Magnitude.IndexOfLargest(samples[low..high], Path);
            int top = peak < low ? -1 : Math.Abs((int)samples[peak]);
            if (top < _gateCounts[k])
            {
                position = double.NaN;
                continue;
            }
            position = peak;
            if (peak > 0 && peak < samples.Length - 1)
            {
                int before = Math.Abs((int)samples[peak - 1]);
                int after = Math.Abs((int)samples[peak + 1]);
                position += SubSample.Parabola(before, top, after);
            }
            if (position - low <= 1 + 1e-6 && Math.Abs((int)samples[low]) >= _gateCounts[k])
                return false;
            double seconds = recordStart + position * plan.IntervalSeconds;
            if (k == 0)
                (cell.FirstSeconds, cell.FirstAmplitude) = (seconds, top * _scale);
            else
                (cell.SecondSeconds, cell.SecondAmplitude) = (seconds, top * _scale);
        }
        return cell.Pair(plan);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private bool MeasureSingles(ReadOnlySpan<float> samples, int beam, ref FastCell cell)
    {
        FastPlan plan = Plan;
        // NaN fails the comparison too.
        if (!(Magnitude.LargestOrNotFinite(samples, Path) <= plan.LargestFraction))
            return false;
        double recordStart = plan.StartOf(beam);
        (int first, int end) = plan.InterfaceWindow(recordStart);
        int at = Magnitude.FirstAtLeast(samples[first..end], plan.InterfaceLevel, Path);
        if (at < 0)
            return true;
        int i = first + at;
        double position = at == 0 ? i : Flank(i, MathF.Abs(samples[i - 1]), MathF.Abs(samples[i]), plan.InterfaceLevel);
        double interfacePosition = position;
        cell.InterfaceSeconds = recordStart + position * plan.IntervalSeconds + plan.OffsetSeconds;
        for (int k = 0; k < plan.GateCount; k++)
        {
            ref readonly FastGate gate = ref plan.Gates[k];
            double followed = gate.FollowsInterface ? interfacePosition : position;
            if (double.IsNaN(followed))
                continue;
            gate.Place(followed, samples.Length, out int low, out int high);
            int peak = low + Magnitude.IndexOfLargest(samples[low..high], Path);
            float top = peak < low ? -1 : MathF.Abs(samples[peak]);
            if (top < gate.Level)
            {
                position = double.NaN;
                continue;
            }
            position = peak;
            if (peak > 0 && peak < samples.Length - 1)
                position += SubSample.Parabola(MathF.Abs(samples[peak - 1]), top, MathF.Abs(samples[peak + 1]));
            if (position - low <= 1 + 1e-6 && MathF.Abs(samples[low]) >= gate.Level)
                return false;
            double seconds = recordStart + position * plan.IntervalSeconds;
            if (k == 0)
                (cell.FirstSeconds, cell.FirstAmplitude) = (seconds, top);
            else
                (cell.SecondSeconds, cell.SecondAmplitude) = (seconds, top);
        }
        return cell.Pair(plan);
    }

    // The smallest count whose fraction, in single precision, reaches a level: integer and single-precision decisions are the same.
    private int Counts(float level)
    {
        int counts = (int)Math.Clamp(Math.Floor((double)level / _scale) - 2, 0, 40000);
        while (counts <= 40000 && counts * _scale < level)
            counts++;
        return counts;
    }
}
