using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using EchoToThickness.Procedures;
using EchoToThickness.Signals;
using EchoToThickness.Stacks;

namespace EchoToThickness.Measurement.Fast;

/// <summary>
/// Interface flank, then one or two gated peaks, on the envelope of a band: the filter is evaluated at every 4th sample that a gate can
/// reach, and at the full rate around the answers (<see cref="EnvelopeSearch"/>). The answers are those of the full rate.
/// </summary>
public sealed class EnvelopeGateMeasurer : FastMeasurer
{
    private readonly EnvelopeSearch _search;
    private readonly float _interfaceSquared;
    private readonly bool _integers;
    private readonly float _zero;
    private readonly float _scale;

    private EnvelopeGateMeasurer(MeasurementPlan plan, FastPlan fast, AnalyticTaps taps, KernelPath path)
        : base(plan, fast, path)
    {
        ConditioningSettings conditioning = plan.Procedure.Conditioning;
        double centre = 0.5 * (conditioning.BandLowHz!.Value + conditioning.BandHighHz!.Value);
        _search = new EnvelopeSearch(
            new AnalyticFir(taps, path),
            2 * Math.PI * centre / plan.Stack.TimeBase.SampleRateHz,
            plan.Stack.Shape.Samples
        );
        _interfaceSquared = SmallestSquare(fast.InterfaceLevel);
        _zero = (float)plan.Stack.Amplitude.ZeroCounts;
        _scale = (float)(1 / plan.Stack.Amplitude.FullScaleCounts);
        _integers = plan.Stack.SampleType is not (SampleType.Float32 or SampleType.Float64);
    }

    /// <inheritdoc/>
    public override string Name => "envelope gates";

    /// <summary>Whether the measurer takes a plan.</summary>
    /// <param name="plan">The plan.</param>
    public static bool Accepts(MeasurementPlan plan) => Compile(plan, out _) is not null;

    /// <summary>Prepares one thread's measurer.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="path">Implementation of the kernels; all give the same grid.</param>
    /// <returns>The measurer; null when it does not take the plan (see <see cref="Accepts"/>).</returns>
    public static EnvelopeGateMeasurer? TryCreate(MeasurementPlan plan, KernelPath path) =>
        Compile(plan, out AnalyticTaps? taps) is { } fast ? new EnvelopeGateMeasurer(plan, fast, taps!, path) : null;

    private static FastPlan? Compile(MeasurementPlan plan, out AnalyticTaps? taps)
    {
        ArgumentNullException.ThrowIfNull(plan);
        taps = null;
        ConditioningSettings conditioning = plan.Procedure.Conditioning;
        double rate = plan.Stack.TimeBase.SampleRateHz;
        if (
            conditioning.Signal != SignalChoice.Envelope
            || conditioning.BandLowHz is not { } low
            || conditioning.BandHighHz is not { } high
            || !(low > 0 && low < high && high < rate / 2)
            || conditioning.Taps % 2 == 0
        )
            return null;
        taps = FirDesign.AnalyticBandPass(conditioning.Taps, low, high, rate);
        return FastPlan.Compile(plan, taps.Gain);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private protected override bool TryMeasure(ReadOnlySpan<byte> stored, int beam, ref FastCell cell)
    {
        FastPlan plan = Plan;
        EnvelopeSearch search = _search;
        Span<float> record = search.Record;
        if (Stack.SampleType == SampleType.Int16)
        {
            search.Begin(MemoryMarshal.Cast<byte, short>(stored), _zero, _scale);
        }
        else
        {
            StoredSamples.ToFractions(stored, Stack.SampleType, Stack.Amplitude, record, Path);
            // NaN fails the comparison too.
            if (!_integers && !(Magnitude.LargestOrNotFinite(record, Path) <= plan.LargestFraction))
                return false;
            search.Begin();
        }
        double recordStart = plan.StartOf(beam);
        (int first, int end) = plan.InterfaceWindow(recordStart);
        int i = search.FirstAtLeast(
            first,
            end,
            plan.InterfaceLevel,
            _interfaceSquared,
            plan.LargestFraction,
            out float before,
            out float found
        );
        if (i < 0)
            return true;
        double position = i == first ? first : Flank(i, MathF.Sqrt(before), MathF.Sqrt(found), plan.InterfaceLevel);
        double interfacePosition = position;
        cell.InterfaceSeconds = recordStart + position * plan.IntervalSeconds + plan.OffsetSeconds;
        for (int k = 0; k < plan.GateCount; k++)
        {
            ref readonly FastGate gate = ref plan.Gates[k];
            double followed = gate.FollowsInterface ? interfacePosition : position;
            if (double.IsNaN(followed))
                continue;
            position = double.NaN;
            gate.Place(followed, record.Length, out int low, out int high);
            if (high <= low)
                continue;
            int peak = search.Largest(low, high, out before, out found, out float after);
            float top = MathF.Sqrt(found);
            if (top < gate.Level)
                continue;
            position = peak;
            if (peak > 0 && peak < record.Length - 1)
                position += SubSample.Parabola(MathF.Sqrt(before), top, MathF.Sqrt(after));
            // Near the start of the gate only the general engine knows whether it is the ring-down of the followed echo.
            if (position - low <= 1 + 1e-6)
                return false;
            double seconds = recordStart + position * plan.IntervalSeconds;
            if (k == 0)
                (cell.FirstSeconds, cell.FirstAmplitude) = (seconds, top);
            else
                (cell.SecondSeconds, cell.SecondAmplitude) = (seconds, top);
        }
        return cell.Pair(plan);
    }

    // The smallest square whose root, in single precision, reaches a level: both ways of asking decide alike.
    private static float SmallestSquare(float level)
    {
        float square = level * level;
        while (MathF.Sqrt(square) >= level)
            square = MathF.BitDecrement(square);
        while (MathF.Sqrt(square) < level)
            square = MathF.BitIncrement(square);
        return square;
    }
}
