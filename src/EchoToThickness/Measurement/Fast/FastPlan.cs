using EchoToThickness.Grids;
using EchoToThickness.Pairing;
using EchoToThickness.Picks;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Velocity;

namespace EchoToThickness.Measurement.Fast;

/// <summary>
/// What the fast measurers need of a plan, compiled, and the test whether they may take it. They take: no offset removal, averaging,
/// tracking or saturation check; levels of full scale; interface by its first flank; one or two gates, the first behind the interface,
/// each giving its strongest peak; walls by difference; a signal-to-noise limit that no echo over its level can miss; layers of times,
/// amplitudes and walls only.
/// </summary>
internal sealed class FastPlan
{
    private static readonly GridLayer[] Known =
    [
        GridLayer.Thickness,
        GridLayer.InterfaceTime,
        GridLayer.FirstEchoTime,
        GridLayer.SecondEchoTime,
        GridLayer.FirstEchoAmplitude,
        GridLayer.SecondEchoAmplitude,
        GridLayer.ThicknessInterfaceWall,
        GridLayer.ThicknessWallWall,
        GridLayer.Status,
    ];

    // sigma = median |y| / 0.6745 (docs/gating.md, section 2).
    private const double NormalMedian = 0.674489750196082;

    private readonly TimeBase _timeBase;
    private readonly InterfaceSettings _interface;
    private readonly bool _shared;
    private readonly double _startSeconds;
    private readonly (int First, int End) _window;

    private FastPlan(MeasurementPlan plan, double filterGain)
    {
        Procedure procedure = plan.Procedure;
        _timeBase = plan.Stack.TimeBase;
        _interface = procedure.Interface;
        SampleRateHz = _timeBase.SampleRateHz;
        IntervalSeconds = 1 / SampleRateHz;
        Samples = plan.Stack.Shape.Samples;
        Velocity = plan.Velocity;
        GateCount = procedure.Gates.Count;
        _shared = _timeBase.BeamStartSeconds is null;
        _startSeconds = _timeBase.StartSeconds;
        _window = WindowAt(_startSeconds);
        for (int gate = 0; gate < GateCount; gate++)
        {
            GateSettings settings = procedure.Gates[gate];
            double metresPerSecond = plan.Velocity.MetresPerSecond;
            bool onInterface = settings.Follows == GateSettings.Interface;
            double start =
                settings.Start.ToSeconds(metresPerSecond) + (onInterface ? procedure.Interface.OffsetSeconds : 0);
            double width = settings.Width.ToSeconds(metresPerSecond);
            Gates[gate] = new FastGate(
                FastGate.Held(start * SampleRateHz),
                FastGate.Held((start + width) * SampleRateHz),
                (float)settings.Level.Ratio,
                onInterface
            );
        }
        InterfaceLevel = (float)procedure.Interface.Level.Ratio;
        OffsetSeconds = procedure.Interface.OffsetSeconds;
        FromInterface = procedure.Pairing.From == GateSettings.Interface;
        ToSecond = GateCount == 2 && procedure.Pairing.To == procedure.Gates[1].Name;
        AgreementMetres = procedure.Pairing.AgreementMetres;
        double ratio = plan.Stack.Acquisition.ShearVelocityMetresPerSecond is { } shear
            ? plan.Velocity.MetresPerSecond / shear
            : GatePairing.DefaultVelocityRatio;
        ConvertedRatio = 0.5 * (1 + ratio);
        MinimumMetres = procedure.Wall.MinimumMetres;
        MaximumMetres = procedure.Wall.MaximumMetres;
        double weakest = Math.Min(InterfaceLevel, Gates[0].Level);
        if (GateCount == 2)
            weakest = Math.Min(weakest, Gates[1].Level);
        LargestFraction = LargestOf(plan.Stack);
        // |y| <= gain max|x|, so sigma <= gain max|x| / 0.6745: an echo over its level then misses no limit below this.
        CertainSnrDecibels = 20 * Math.Log10(weakest * NormalMedian / (filterGain * LargestFraction)) - 0.01;
    }

    public double SampleRateHz { get; }
    public double IntervalSeconds { get; }
    public int Samples { get; }
    public int GateCount { get; }
    public FastGate[] Gates { get; } = new FastGate[2];
    public float InterfaceLevel { get; }
    public double OffsetSeconds { get; }
    public bool FromInterface { get; }
    public bool ToSecond { get; }
    public double AgreementMetres { get; }
    public double ConvertedRatio { get; }
    public double MinimumMetres { get; }
    public double MaximumMetres { get; }
    public ResolvedVelocity Velocity { get; }

    /// <summary>Largest magnitude of a record: of integer types what they can hold, else full scale, which the measurer checks.</summary>
    public double LargestFraction { get; }

    /// <summary>Every echo over its level has at least this signal-to-noise ratio.</summary>
    private double CertainSnrDecibels { get; }

    /// <summary>Compiles a plan; null when the fast measurers cannot take it.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="filterGain">Largest output of the filter for an input of magnitude 1.</param>
    public static FastPlan? Compile(MeasurementPlan plan, double filterGain)
    {
        Procedure procedure = plan.Procedure;
        ConditioningSettings conditioning = procedure.Conditioning;
        InterfaceSettings sync = procedure.Interface;
        if (
            conditioning.RemoveOffset
            || conditioning.AverageBeams != 1
            || conditioning.AverageScans != 1
            || conditioning.SaturationSamples != 0
            || plan.Stack.Acquisition.Form != SignalForm.RadioFrequency
            || sync.Track != TrackRule.None
            || sync.Level.Reference != LevelReference.FullScale
            || !(sync.Level.Ratio > 0)
            || sync.Take != EchoChoice.First
            || sync.Pick != PickRule.Flank
            || sync.FlankFraction is not null
            || sync.Polarity != PolarityChoice.Either
            || procedure.Gates.Count is not (1 or 2)
            || !Takes(procedure.Gates, 0)
            || (procedure.Gates.Count == 2 && !Takes(procedure.Gates, 1))
            || !Takes(procedure)
            || plan.Layers.Any(layer => !Known.Contains(layer))
        )
            return null;
        var fast = new FastPlan(plan, filterGain);
        return procedure.Pairing.MinimumSnrDecibels <= fast.CertainSnrDecibels ? fast : null;
    }

    /// <summary>Time of sample 0, seconds from the pulse.</summary>
    /// <param name="beam">Beam.</param>
    public double StartOf(int beam) => _shared ? _startSeconds : _timeBase.StartOf(beam);

    /// <summary>Samples searched for the interface.</summary>
    /// <param name="recordStart">Time of sample 0.</param>
    /// <returns>First and one past the last.</returns>
    public (int First, int End) InterfaceWindow(double recordStart) => _shared ? _window : WindowAt(recordStart);

    private (int First, int End) WindowAt(double recordStart) =>
        WindowSamples.Within(
            _interface.SearchStartSeconds,
            _interface.SearchEndSeconds,
            recordStart,
            SampleRateHz,
            Samples
        );

    // Largest magnitude that a stored type can hold; of floating-point types full scale, their records are looked at one by one.
    private static double LargestOf(StackInfo stack)
    {
        AmplitudeScale scale = stack.Amplitude;
        AmplitudeScale type = AmplitudeScale.For(stack.SampleType);
        (double low, double high) = double.IsNaN(type.MinimumCounts)
            ? (scale.ZeroCounts - scale.FullScaleCounts, scale.ZeroCounts + scale.FullScaleCounts)
            : (type.MinimumCounts, type.MaximumCounts);
        return Math.Max(Math.Abs(low - scale.ZeroCounts), Math.Abs(high - scale.ZeroCounts)) / scale.FullScaleCounts;
    }

    private static bool Takes(IReadOnlyList<GateSettings> gates, int index)
    {
        GateSettings gate = gates[index];
        return (gate.Follows == GateSettings.Interface || (index == 1 && gate.Follows == gates[0].Name))
            && gate.Level.Reference == LevelReference.FullScale
            && gate.Level.Ratio > 0
            && gate.LevelByDepth.Count == 0
            && gate.Take == EchoChoice.Strongest
            && gate.Pick == PickRule.Peak
            && gate.Polarity == PolarityChoice.Either;
    }

    private static bool Takes(Procedure procedure)
    {
        PairingSettings pairing = procedure.Pairing;
        IReadOnlyList<GateSettings> gates = procedure.Gates;
        string first = gates[0].Name;
        string second = gates.Count == 2 ? gates[1].Name : "";
        return pairing.Rule == PairingRule.Difference
            && (pairing.FirstWall.Length == 0 || pairing.FirstWall == first)
            && (pairing.SecondWall.Length == 0 || pairing.SecondWall == second)
            && pairing.To.Length > 0
            && (
                (pairing.From == GateSettings.Interface && (pairing.To == first || pairing.To == second))
                || (pairing.From == first && pairing.To == second)
            );
    }
}
