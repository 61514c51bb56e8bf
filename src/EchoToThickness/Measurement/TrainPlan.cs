using EchoToThickness.Echoes;
using EchoToThickness.Estimation;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Signals;
using EchoToThickness.Stacks;
using EchoToThickness.Velocity;

namespace EchoToThickness.Measurement;

/// <summary>What the train rule needs to know of procedure and stack before any sample is read.</summary>
internal static class TrainPlan
{
    /// <summary>Above it the band meets half the sample rate.</summary>
    private const double LargestFractionOfRate = 0.45;

    /// <summary>Below it the filter grows beyond its longest form, and the record is hundreds of times oversampled.</summary>
    private const double SmallestFractionOfRate = 1.0 / 160;

    private const double UsualBandwidthFraction = 0.6;

    /// <summary>Velocity of water at room temperature, for the couplant when nobody states it, metres per second.</summary>
    private const double WaterMetresPerSecond = 1480;

    public static EchoScale ScaleOf(Procedure procedure, StackInfo stack)
    {
        if (stack.Acquisition.Form == SignalForm.Rectified)
            throw new ProcedureException(
                $"The pairing rule 'train' looks at polarity, and the stack {stack.Name} is rectified.",
                "pairing.rule",
                "use 'difference' or 'agreement' with gates on the rectified signal."
            );
        double frequency =
            procedure.Train.FrequencyHz
            ?? stack.Acquisition.FrequencyHz
            ?? throw new ProcedureException(
                $"The pairing rule 'train' needs the nominal frequency, and neither procedure nor stack {stack.Name} states it.",
                "train.frequency",
                "write, for example, frequency = \"7 MHz\" in [train], or give it in the layout map."
            );
        double rate = stack.TimeBase.SampleRateHz;
        if (frequency > LargestFractionOfRate * rate || frequency < SmallestFractionOfRate * rate)
            throw new ProcedureException(
                FormattableString.Invariant(
                    $"A frequency of {frequency:g6} Hz cannot be looked at with {rate:g6} samples a second, the rate of the stack {stack.Name}: it must lie between {SmallestFractionOfRate * rate:g6} and {LargestFractionOfRate * rate:g6} Hz."
                ),
                "train.frequency",
                "check frequency and sample rate: one of them is probably in the wrong unit."
            );
        return new EchoScale(
            rate,
            frequency,
            procedure.Train.BandwidthFraction ?? stack.Acquisition.BandwidthFraction ?? UsualBandwidthFraction
        );
    }

    /// <summary>First sample looked at, and the sample before which the interface lies.</summary>
    public static (int SearchFrom, int InterfaceEnd) SearchOf(
        InterfaceSettings search,
        double startSeconds,
        double rate
    ) =>
        (
            search.SearchStartSeconds is { } from ? ToSample((from - startSeconds) * rate) : 0,
            search.SearchEndSeconds is { } to ? ToSample((to - startSeconds) * rate) : int.MaxValue
        );

    /// <summary>
    /// A strong maximum before this sample is the transmitted pulse; 0 when the record starts after time 0 or the procedure states where
    /// the search begins.
    /// </summary>
    public static int PulseEndOf(InterfaceSettings search, double startSeconds, EchoScale scale) =>
        startSeconds > 0 || search.SearchStartSeconds is not null
            ? 0
            : ToSample(-startSeconds * scale.SampleRateHz + TrainContext.PulseDelayPeriods * scale.Period);

    /// <summary>A record for the A-scans of a plan's stack.</summary>
    public static EchoRecord RecordOf(MeasurementPlan plan, KernelPath path)
    {
        StackInfo stack = plan.Stack;
        double quantum = stack.SampleType is SampleType.Float32 or SampleType.Float64
            ? 0
            : 1 / stack.Amplitude.FullScaleCounts;
        return new EchoRecord(stack.Shape.Samples, ScaleOf(plan.Procedure, stack), quantum, path);
    }

    /// <summary>A decider for a plan.</summary>
    public static TrainDecider DeciderOf(MeasurementPlan plan)
    {
        EchoScale scale = ScaleOf(plan.Procedure, plan.Stack);
        return new TrainDecider(
            plan.Procedure.Train,
            plan.Stack.Shape.Samples,
            scale,
            DiffractionOf(plan.Procedure, plan.Stack, scale, plan.Velocity),
            plan.Velocity.ZeroSeconds + plan.Velocity.CoatingSeconds
        );
    }

    private static int ToSample(double position) => (int)Math.Clamp(Math.Ceiling(position - 1e-9), 0, int.MaxValue);

    /// <summary>Whether true neighbours along the beam axis take part.</summary>
    public static bool AsksNeighbours(Procedure procedure, StackInfo stack) =>
        procedure.Pairing.Rule == PairingRule.Train
        && procedure.Train.Neighbours
        && stack.Neighbours.HasFlag(NeighbourAxes.Beam);

    /// <summary>Whether walls are chosen over the map.</summary>
    public static bool ChoosesOverMap(Procedure procedure) =>
        procedure.Pairing.Rule == PairingRule.Train
        && procedure.Estimation.Method == EstimationMethod.Train
        && procedure.Map.Choice != MapChoice.Off;

    public static FresnelDelay? DiffractionOf(
        Procedure procedure,
        StackInfo stack,
        EchoScale scale,
        ResolvedVelocity velocity
    )
    {
        CorrectionSettings correction = procedure.Correction;
        if (
            !correction.Diffraction
            || (correction.ApertureMetres ?? stack.Acquisition.ApertureMetres) is not { } aperture
        )
            return null;
        return new FresnelDelay(
            aperture,
            correction.ElevationMetres ?? stack.Acquisition.ElevationMetres,
            scale.FrequencyHz,
            stack.Acquisition.CouplantVelocityMetresPerSecond ?? WaterMetresPerSecond,
            velocity.MetresPerSecond
        );
    }

    /// <summary>The diffraction correction in one line, with its size at the nominal (or a usual) wall; none when nothing is corrected.</summary>
    public static IEnumerable<string> DescribeDiffraction(MeasurementPlan plan)
    {
        const double usualWallMetres = 8e-3;
        const double couplantPathMetres = 2e-3;
        Procedure procedure = plan.Procedure;
        if (procedure.Pairing.Rule != PairingRule.Train)
            yield break;
        EchoScale scale = ScaleOf(procedure, plan.Stack);
        if (DiffractionOf(procedure, plan.Stack, scale, plan.Velocity) is not { } delay)
            yield break;
        double wall = procedure.Wall.NominalMetres ?? plan.Stack.Component.NominalWallMetres ?? usualWallMetres;
        double couplant =
            2 * couplantPathMetres / (plan.Stack.Acquisition.CouplantVelocityMetresPerSecond ?? WaterMetresPerSecond);
        double early = delay.Seconds(couplant, 0) - delay.Seconds(couplant, 2 * wall / plan.Velocity.MetresPerSecond);
        yield return FormattableString.Invariant(
            $"diffraction of the aperture: {1e3 * plan.Velocity.WallToWallMetres(early):+0.0000;-0.0000} mm from interface to back-wall echo 1 at {1e3 * wall:0.###} mm wall and 2 mm couplant"
        );
    }
}
