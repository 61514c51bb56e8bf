using EchoToThickness.Conditioning;
using EchoToThickness.Gating;
using EchoToThickness.InterfaceSync;
using EchoToThickness.Pairing;
using EchoToThickness.Picks;
using EchoToThickness.Procedures;
using EchoToThickness.Uncertainty;

namespace EchoToThickness.Measurement;

/// <summary>
/// Standard uncertainty of a wall from gated echoes: pick noise of the echoes it rests on, sampling, and calibration; given that the
/// echoes are the right ones. Allocates nothing per A-scan.
/// </summary>
internal sealed class GateUncertainty
{
    private readonly UncertaintyModel _model;
    private readonly AScanConditioner _conditioner;
    private readonly InterfaceFinder _finder;
    private readonly GateEvaluator _gates;
    private readonly GatePairing _pairing;
    private readonly InterfaceSettings _interface;
    private readonly double _interfaceAtRatioOne;
    private readonly double[] _gateAtRatioOne;
    private readonly double _samplingMetres;

    public GateUncertainty(
        MeasurementPlan plan,
        AScanConditioner conditioner,
        InterfaceFinder finder,
        GateEvaluator gates,
        GatePairing pairing
    )
    {
        _model = UncertaintyModel.For(plan.Procedure, plan.Stack, plan.Velocity);
        _conditioner = conditioner;
        _finder = finder;
        _gates = gates;
        _pairing = pairing;
        _interface = plan.Procedure.Interface;
        _interfaceAtRatioOne = _model.PickAtRatioOneSeconds(_interface.Pick, _interface.FlankFraction);
        _gateAtRatioOne = new double[gates.Count];
        double sampling = 0;
        for (int gate = 0; gate < gates.Count; gate++)
        {
            GateSettings settings = gates.SettingsOf(gate);
            _gateAtRatioOne[gate] = _model.PickAtRatioOneSeconds(settings.Pick, settings.FlankFraction);
            if (pairing.IsPaired(gate))
                sampling = Math.Max(sampling, _model.SamplingMetres(settings.Pick));
        }
        if (pairing.IsPaired(-1))
            sampling = Math.Max(sampling, _model.SamplingMetres(_interface.Pick));
        _samplingMetres = sampling / Steps;
    }

    private int Steps => _pairing.IsAgreement ? 1 : _pairing.OrderOf(_pairing.To) - _pairing.OrderOf(_pairing.From);

    /// <summary>Fills the uncertainties of a measured cell.</summary>
    public void Fill(in InterfaceEcho interfaceEcho, ReadOnlySpan<GateOutcome> outcomes, ref CellResult cell)
    {
        if (cell.Status != CellStatus.Measured)
            return;
        bool fromInterface = _pairing.From < 0 && interfaceEcho.Echo.Found;
        double to = Gate(_pairing.To, outcomes);
        double share;
        if (_pairing.IsAgreement && fromInterface)
        {
            GatedEcho first = outcomes[_pairing.FirstWallGate].Echo;
            (double one, double two) = GatePairing.LineWeights(interfaceEcho.Echo, first, outcomes[_pairing.To].Echo);
            // Slope = one t_1 + two t_2 - (one + two) t_0, the picks independent.
            share = one + two;
            double seconds = Math.Sqrt(
                Square(share * Interface(interfaceEcho))
                    + Square(one * Gate(_pairing.FirstWallGate, outcomes))
                    + Square(two * to)
            );
            cell.UncertaintyNoiseMetres = _model.SpacingMetres(seconds, 0);
        }
        else
        {
            int earlier = _pairing.IsAgreement ? _pairing.FirstWallGate : _pairing.From;
            double from = fromInterface ? Interface(interfaceEcho) : Gate(earlier, outcomes);
            cell.UncertaintyNoiseMetres = _model.SpacingMetres(from, to, Steps);
            // Zero and coating are one time for all the round trips between the two echoes.
            share = fromInterface ? 1.0 / Steps : 0;
        }
        cell.UncertaintyCalibrationMetres = _model.CalibrationMetres(cell.ThicknessMetres, share);
        cell.UncertaintyMetres = UncertaintyModel.CombinedMetres(
            cell.UncertaintyNoiseMetres,
            cell.UncertaintyCalibrationMetres,
            _samplingMetres
        );
    }

    private double Interface(in InterfaceEcho interfaceEcho) =>
        Seconds(interfaceEcho.Echo, _interface.Pick, _interface.FlankFraction, _finder.Level, _interfaceAtRatioOne);

    private double Gate(int gate, ReadOnlySpan<GateOutcome> outcomes)
    {
        GateSettings settings = _gates.SettingsOf(gate);
        return Seconds(
            outcomes[gate].Echo,
            settings.Pick,
            settings.FlankFraction,
            outcomes[gate].Level,
            _gateAtRatioOne[gate]
        );
    }

    // A flank at the level is timed at that fraction of its own peak.
    private double Seconds(in GatedEcho echo, PickRule pick, double? flankFraction, double level, double atRatioOne)
    {
        double amplitude = echo.Run.AmplitudeFraction;
        if (pick == PickRule.Flank && flankFraction is null)
            atRatioOne = _model.PickAtRatioOneSeconds(pick, level / amplitude);
        return atRatioOne * _conditioner.NoiseFraction / amplitude;
    }

    private static double Square(double value) => value * value;
}
