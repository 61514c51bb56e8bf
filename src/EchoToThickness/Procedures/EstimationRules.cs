using System.Globalization;
using EchoToThickness.Stacks;

namespace EchoToThickness.Procedures;

/// <summary>What of <c>[estimation]</c> contradicts itself, the pairing rule or the stack. A setting that would be passed over is refused, not ignored.</summary>
internal static class EstimationRules
{
    private const EstimationMethod Train = EstimationMethod.Train;

    public static void Check(Procedure procedure, Action<string, string, string> fault)
    {
        EstimationSettings e = procedure.Estimation;
        var usual = new EstimationSettings();
        if (e.Method != Train && procedure.Pairing.Rule != PairingRule.Train)
            fault(
                "estimation.method",
                $"The estimators work on the echo train; the pairing rule '{Word(procedure.Pairing.Rule)}' picks its echoes in gates.",
                "write rule = \"train\" in [pairing], or leave out [estimation] and choose the pick of each gate."
            );
        if (e.Search != usual.Search && e.Method == Train)
            Unused(
                "search",
                "The train rule searches the whole record by itself.",
                "leave it out, or choose another method.",
                fault
            );
        if (e.WeakestRatio != usual.WeakestRatio && e.Method == Train)
            Unused(
                "weakest_ratio",
                "The train rule has a limit of its own.",
                "write train.weakest_ratio, or choose another method.",
                fault
            );
        if (e.FlankFraction != usual.FlankFraction && e.Method != EstimationMethod.Flank)
            Unused(
                "flank_fraction",
                $"'{Word(e.Method)}' times no flank.",
                "leave it out, or write method = \"flank\".",
                fault
            );
        if (e.Interpolation != usual.Interpolation && e.Method != EstimationMethod.CrossCorrelation)
            Unused(
                "interpolation",
                $"'{Word(e.Method)}' has one way of placing its maximum.",
                "leave it out, or write method = \"cross-correlation\".",
                fault
            );
        if (e.FitPhase && e.Method != EstimationMethod.JointFit)
            Unused(
                "fit_phase",
                $"'{Word(e.Method)}' fits no phase.",
                "leave it out, or write method = \"joint-fit\".",
                fault
            );
        if (e.FitAttenuation && e.Method != EstimationMethod.JointFit)
            Unused(
                "fit_attenuation",
                $"'{Word(e.Method)}' fits no attenuation.",
                "leave it out, or write method = \"joint-fit\".",
                fault
            );
        Reference(e, fault);
    }

    public static void Against(Procedure procedure, StackInfo stack, Action<string, string, string> fault)
    {
        int samples = procedure.Estimation.CalibrationEcho.Count;
        if (samples > stack.Shape.Samples)
            fault(
                "estimation.calibration_echo",
                $"The calibration echo has {Text(samples)} samples, more than the A-scans of {stack.Name} ({Text(stack.Shape.Samples)}).",
                "cut it to the echo itself, a few periods long."
            );
    }

    private static void Reference(EstimationSettings e, Action<string, string, string> fault)
    {
        bool uses =
            e.Method
            is EstimationMethod.MatchedFilter
                or EstimationMethod.Deconvolution
                or EstimationMethod.Sparse
                or EstimationMethod.Parametric
                or EstimationMethod.Cepstrum
                or EstimationMethod.Resonance
                or EstimationMethod.Autocorrelation
                or EstimationMethod.JointFit;
        if (e.Reference != EchoReference.Interface && !uses)
            Unused(
                "reference",
                $"'{Word(e.Method)}' uses no reference echo but the interface.",
                "leave it out, or write method = \"matched-filter\" or \"joint-fit\".",
                fault
            );
        bool given = e.CalibrationEcho.Count > 0;
        if (given && e.Reference != EchoReference.Calibration)
            Unused(
                "calibration_echo",
                "The calibration echo is not the reference.",
                "write reference = \"calibration\", or leave it out.",
                fault
            );
        if (e.Reference == EchoReference.Calibration && e.CalibrationEcho.Count < 5)
            fault(
                "estimation.calibration_echo",
                given
                    ? $"The calibration echo has {Text(e.CalibrationEcho.Count)} samples; an echo needs at least 5."
                    : "The reference is a calibration echo, and none is given.",
                "write the samples of one clean echo, such as calibration_echo = [0.0, 0.1, ...]."
            );
        if (given && e.CalibrationEcho.All(sample => sample == 0))
            fault(
                "estimation.calibration_echo",
                "The calibration echo is zero throughout.",
                "write the samples of a recorded echo."
            );
    }

    private static void Unused(string key, string what, string remedy, Action<string, string, string> fault) =>
        fault("estimation." + key, what, remedy);

    private static string Text(int value) => value.ToString(CultureInfo.InvariantCulture);

    private static string Word<T>(T value)
        where T : struct, Enum => KeyDescription.ChoicesOf(typeof(T)).First(c => c.Value.Equals(value)).Choice.Word;
}
