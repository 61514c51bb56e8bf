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

    private protected override bool TryMeasure(ReadOnlySpan<byte> stored, int beam, out FastCell cell)
    {
        if (_words)
            return MeasureWords(MemoryMarshal.Cast<byte, short>(stored), beam, out cell);
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
        return MeasureSingles(samples, beam, out cell);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private bool MeasureWords(ReadOnlySpan<short> samples, int beam, out FastCell cell)
    {
        cell = FastCell.Nothing;
        FastPlan plan = Plan;
        double recordStart = plan.StartOf(beam);
        (int first, int end) = plan.InterfaceWindow(recordStart);
        int at = Magnitude.FirstAtLeast(samples[first..end], _interfaceCounts, Path);
        if (at < 0)
            return true;
        int i = first + at;
        double position =
            at == 0 ? first : Flank(i, Amplitude(samples[i - 1]), Amplitude(samples[i]), plan.InterfaceLevel);
        cell.InterfaceSeconds = recordStart + position / plan.SampleRateHz + plan.OffsetSeconds;
        double followed = cell.InterfaceSeconds;
        for (int k = 0; k < plan.GateCount; k++)
        {
            FastGate gate = plan.Gates[k];
            double from = (gate.FollowsInterface ? cell.InterfaceSeconds : followed) + gate.StartSeconds;
            if (double.IsNaN(from))
                continue;
            int low = Math.Clamp(plan.IndexAt(from, recordStart), 0, samples.Length);
            int high = Math.Clamp(plan.IndexAt(from + gate.WidthSeconds, recordStart), low, samples.Length);
            int peak = low + Magnitude.IndexOfLargest(samples[low..high], Path);
            double seconds = double.NaN;
            float amplitude = float.NaN;
            if (peak >= low && Math.Abs((int)samples[peak]) >= _gateCounts[k])
            {
                amplitude = Amplitude(samples[peak]);
                position = peak;
                if (peak > 0 && peak < samples.Length - 1)
                    position += SubSample.Parabola(
                        Amplitude(samples[peak - 1]),
                        amplitude,
                        Amplitude(samples[peak + 1])
                    );
                if (IsRingDown(Amplitude(samples[low]), gate.Level, position, low))
                    return false;
                seconds = recordStart + position / plan.SampleRateHz;
            }
            if (k == 0)
                (cell.FirstSeconds, cell.FirstAmplitude) = (seconds, amplitude);
            else
                (cell.SecondSeconds, cell.SecondAmplitude) = (seconds, amplitude);
            followed = seconds;
        }
        return cell.Pair(plan);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private bool MeasureSingles(ReadOnlySpan<float> samples, int beam, out FastCell cell)
    {
        cell = FastCell.Nothing;
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
        double position =
            at == 0 ? first : Flank(i, MathF.Abs(samples[i - 1]), MathF.Abs(samples[i]), plan.InterfaceLevel);
        cell.InterfaceSeconds = recordStart + position / plan.SampleRateHz + plan.OffsetSeconds;
        double followed = cell.InterfaceSeconds;
        for (int k = 0; k < plan.GateCount; k++)
        {
            FastGate gate = plan.Gates[k];
            double from = (gate.FollowsInterface ? cell.InterfaceSeconds : followed) + gate.StartSeconds;
            if (double.IsNaN(from))
                continue;
            int low = Math.Clamp(plan.IndexAt(from, recordStart), 0, samples.Length);
            int high = Math.Clamp(plan.IndexAt(from + gate.WidthSeconds, recordStart), low, samples.Length);
            int peak = low + Magnitude.IndexOfLargest(samples[low..high], Path);
            double seconds = double.NaN;
            float amplitude = float.NaN;
            if (peak >= low && MathF.Abs(samples[peak]) >= gate.Level)
            {
                amplitude = MathF.Abs(samples[peak]);
                position = peak;
                if (peak > 0 && peak < samples.Length - 1)
                    position += SubSample.Parabola(
                        MathF.Abs(samples[peak - 1]),
                        amplitude,
                        MathF.Abs(samples[peak + 1])
                    );
                if (IsRingDown(MathF.Abs(samples[low]), gate.Level, position, low))
                    return false;
                seconds = recordStart + position / plan.SampleRateHz;
            }
            if (k == 0)
                (cell.FirstSeconds, cell.FirstAmplitude) = (seconds, amplitude);
            else
                (cell.SecondSeconds, cell.SecondAmplitude) = (seconds, amplitude);
            followed = seconds;
        }
        return cell.Pair(plan);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private float Amplitude(short counts) => MathF.Abs(counts * _scale);

    // The smallest count whose fraction, in single precision, reaches a level: integer and single-precision decisions are the same.
    private int Counts(float level)
    {
        int counts = (int)Math.Clamp(Math.Floor((double)level / _scale) - 2, 0, 40000);
        while (counts <= 40000 && counts * _scale < level)
            counts++;
        return counts;
    }
}
