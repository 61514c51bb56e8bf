using EchoToThickness.Echoes;
using EchoToThickness.Estimation;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Velocity;

namespace EchoToThickness.Measurement;

/// <summary>What the train rule needs to know of procedure and stack before any sample is read.</summary>
internal static class TrainPlan
{
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
        if (procedure.Interface.Track != TrackRule.None)
            throw new ProcedureException(
                "The pairing rule 'train' weighs interface and walls together and does not take a tracked interface.",
                "interface.track",
                "leave it out (train.neighbours lets true neighbours take part), or use gates with 'difference' or 'agreement'."
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
        if (frequency > 0.45 * rate)
            throw new ProcedureException(
                FormattableString.Invariant(
                    $"A frequency of {frequency / 1e6:0.###} MHz needs more than {rate / 1e6:0.###} MS/s, the rate of the stack {stack.Name}."
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
}
