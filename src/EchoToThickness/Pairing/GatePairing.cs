using EchoToThickness.Conditioning;
using EchoToThickness.Gating;
using EchoToThickness.InterfaceSync;
using EchoToThickness.Picks;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Velocity;

namespace EchoToThickness.Pairing;

/// <summary>
/// The wall from gated echoes, for the rules <see cref="PairingRule.Difference"/> and <see cref="PairingRule.Agreement"/>, with the
/// checks that name doubled walls, converted modes, ring-down, couplant multiples and unexpected polarity. Exact definitions:
/// docs/gating.md, section 8. Allocates nothing per A-scan.
/// </summary>
public sealed partial class GatePairing
{
    /// <summary>Ratio of longitudinal to shear velocity where the stack does not give the shear velocity: steel, 5920 / 3230.</summary>
    public const double DefaultVelocityRatio = 5920.0 / 3230.0;

    /// <summary>Largest signal-to-noise ratio reported, decibels; a record without any noise has this.</summary>
    public const double LargestSnrDecibels = 200;

    // A second echo this much stronger than the first (3 dB) does not decay.
    private const double GrowthRatio = 1.4142135623730951;
    private const int Interface = -1;
    private const int Missing = -2;

    private readonly Procedure _procedure;
    private readonly ResolvedVelocity _velocity;
    private readonly AScanConditioner _conditioner;
    private readonly GateEvaluator _gates;
    private readonly bool _agreement;
    private readonly double _convertedRatio;
    private readonly int _first;
    private readonly int _second;
    private readonly int _from;
    private readonly int _to;

    /// <summary>Prepares for the A-scans of one stack.</summary>
    /// <param name="procedure">A consistent procedure with the rule 'difference' or 'agreement'.</param>
    /// <param name="stack">The stack.</param>
    /// <param name="velocity">Metres for seconds.</param>
    /// <param name="conditioner">Owner of the signal and its noise.</param>
    /// <param name="gates">The gates.</param>
    /// <exception cref="ProcedureException">The difference does not end at a later echo than it starts.</exception>
    public GatePairing(
        Procedure procedure,
        StackInfo stack,
        ResolvedVelocity velocity,
        AScanConditioner conditioner,
        GateEvaluator gates
    )
    {
        ArgumentNullException.ThrowIfNull(procedure);
        ArgumentNullException.ThrowIfNull(stack);
        ArgumentNullException.ThrowIfNull(velocity);
        ArgumentNullException.ThrowIfNull(conditioner);
        ArgumentNullException.ThrowIfNull(gates);
        _procedure = procedure;
        _velocity = velocity;
        _conditioner = conditioner;
        _gates = gates;
        PairingSettings settings = procedure.Pairing;
        _agreement = settings.Rule == PairingRule.Agreement;
        double ratio = stack.Acquisition.ShearVelocityMetresPerSecond is { } shear
            ? velocity.MetresPerSecond / shear
            : DefaultVelocityRatio;
        // One leg longitudinal, one shear: (d / cL + d / cS) cL / (2 d).
        _convertedRatio = 0.5 * (1 + ratio);
        _first = settings.FirstWall.Length > 0 ? Find(settings.FirstWall) : 0;
        _second =
            settings.SecondWall.Length > 0 ? Find(settings.SecondWall)
            : gates.Count > 1 ? 1
            : Missing;
        if (_second == _first)
            _second = Missing;
        _from =
            _agreement ? Interface
            : settings.From == GateSettings.Interface ? Interface
            : Find(settings.From);
        _to = _agreement ? _second : Find(settings.To);
        if (_to < 0 || OrderOf(_to) <= OrderOf(_from))
            throw new ProcedureException(
                _agreement
                    ? "The rule 'agreement' needs a gate on back-wall echo 2 as well."
                    : $"The difference from '{settings.From}' to '{settings.To}' does not end at a later echo than it starts.",
                _agreement ? "pairing.second_wall" : "pairing.to",
                "name the gates of back-wall echoes 1 and 2 in pairing.first_wall and second_wall, and end at the later one."
            );
    }

    /// <summary>Gate that holds back-wall echo 1, in the order of the procedure.</summary>
    public int FirstWallGate => _first;

    /// <summary>Whether the wall rests on a gate's echo.</summary>
    /// <param name="gate">Gate, in the order of the procedure; -1 for the interface.</param>
    public bool IsPaired(int gate) => gate == _from || gate == _to || (_agreement && gate == _first);

    /// <summary>Order of a gate's echo: back-wall echo n.</summary>
    /// <param name="gate">Gate, in the order of the procedure; -1 for the interface, which is 0.</param>
    public int OrderOf(int gate)
    {
        if (gate == Interface)
            return 0;
        if (gate == _first)
            return 1;
        if (gate == _second)
            return 2;
        int followed = _gates.FollowedBy(gate);
        return followed >= 0 ? OrderOf(followed) + 1 : 1;
    }

    /// <summary>Signal-to-noise ratio of an echo, decibels: highest sample over the robust standard deviation of the noise.</summary>
    /// <param name="echo">An echo that was found.</param>
    public double SnrDecibels(in GatedEcho echo) =>
        Math.Min(20 * Math.Log10(echo.Run.AmplitudeFraction / _conditioner.NoiseFraction), LargestSnrDecibels);

    /// <summary>First echo of the difference: a gate in the order of the procedure, or -1 for the interface.</summary>
    public int From => _from;

    /// <summary>Last echo that the wall rests on: a gate in the order of the procedure.</summary>
    public int To => _to;

    /// <summary>Whether the rule is <see cref="PairingRule.Agreement"/>.</summary>
    public bool IsAgreement => _agreement;

    /// <summary>
    /// Weights of the straight line through the echoes 0, 1 and 2: its slope is <c>one (t_1 - t_0) + two (t_2 - t_0)</c>.
    /// </summary>
    /// <param name="zero">Interface echo.</param>
    /// <param name="one">Back-wall echo 1.</param>
    /// <param name="two">Back-wall echo 2.</param>
    /// <remarks>
    /// Least squares with weights 1 / variance; the variance of a pick falls with the square of the signal-to-noise ratio
    /// (Cramér-Rao), so the squared amplitudes are the weights: <c>sum w (k - m) t / sum w (k - m)^2</c>, m the weighted mean of k.
    /// </remarks>
    public static (double One, double Two) LineWeights(in GatedEcho zero, in GatedEcho one, in GatedEcho two)
    {
        double w0 = Square(zero.Run.AmplitudeFraction);
        double w1 = Square(one.Run.AmplitudeFraction);
        double w2 = Square(two.Run.AmplitudeFraction);
        double mean = (w1 + 2 * w2) / (w0 + w1 + w2);
        double down = w0 * mean * mean + w1 * Square(1 - mean) + w2 * Square(2 - mean);
        return (w1 * (1 - mean) / down, w2 * (2 - mean) / down);
    }

    /// <summary>Pairs the echoes of one A-scan.</summary>
    /// <param name="interfaceEcho">The interface; may be none.</param>
    /// <param name="outcomes">One outcome a gate.</param>
    /// <returns>Everything decided; the uncertainties are left at NaN (the measurer fills them).</returns>
    public CellResult Pair(in InterfaceEcho interfaceEcho, ReadOnlySpan<GateOutcome> outcomes)
    {
        CellResult cell = CellResult.Unmeasured(CellStatus.Measured);
        Describe(interfaceEcho, outcomes, ref cell);
        CellStatus refusal = Refusal(interfaceEcho, outcomes, ref cell);
        if (refusal != CellStatus.Measured)
        {
            cell.Status = refusal;
            return cell;
        }
        bool withInterface = _from == Interface && interfaceEcho.Echo.Found;
        double wall = Wall(interfaceEcho, outcomes, outcomes[_to].Echo, withInterface);
        Annotate(interfaceEcho, outcomes, withInterface, ref cell);
        Support(ref cell, withInterface);
        cell.PairedOrders = (byte)(
            Math.Min(withInterface || _from != Interface ? OrderOf(_from) : 1, 14) + 16 * Math.Min(OrderOf(_to), 14)
        );
        cell.Margin = MarginOf(outcomes);
        if (outcomes[_to].Rival.Found)
            cell.RunnerUpThicknessMetres = Wall(interfaceEcho, outcomes, outcomes[_to].Rival, withInterface);
        cell.Status = Compare(outcomes, wall, withInterface, ref cell);
        if (cell.Status == CellStatus.Measured)
        {
            if (wall < _procedure.Wall.MinimumMetres || wall > _procedure.Wall.MaximumMetres)
                cell.Status = CellStatus.OutsideRange;
            else
                cell.ThicknessMetres = wall;
        }
        if (cell.Status == CellStatus.AmbiguousPairing)
            cell.Margin = 0;
        return cell;
    }

    // What was seen, whatever becomes of the cell: times, amplitudes, and the spacings of believable echoes.
    private void Describe(in InterfaceEcho interfaceEcho, ReadOnlySpan<GateOutcome> outcomes, ref CellResult cell)
    {
        if (interfaceEcho.Tracked)
            cell.Notes |= CellNotes.InterfaceTracked;
        cell.InterfaceSeconds = interfaceEcho.ReportedSeconds;
        cell.InterfaceAmplitudeFraction = interfaceEcho.Echo.AmplitudeFraction;
        bool standard =
            (_from == Interface || _from == _first || _from == _second) && (_to == _first || _to == _second);
        int earlier =
            standard ? _first
            : _from == Interface ? _to
            : _from;
        int later =
            standard ? _second
            : _from == Interface ? Missing
            : _to;
        if (outcomes[earlier].Echo is { Found: true } one)
            (cell.FirstEchoSeconds, cell.FirstEchoAmplitudeFraction) = (one.Seconds, one.AmplitudeFraction);
        if (later >= 0 && outcomes[later].Echo is { Found: true } two)
            (cell.SecondEchoSeconds, cell.SecondEchoAmplitudeFraction) = (two.Seconds, two.AmplitudeFraction);
        if (!IsBelievable(_first, outcomes))
            return;
        double firstSeconds = outcomes[_first].Echo.Seconds;
        if (IsBelievable(interfaceEcho))
            cell.ThicknessInterfaceWallMetres = _velocity.InterfaceToWallMetres(
                firstSeconds - interfaceEcho.ReportedSeconds
            );
        if (_second >= 0 && IsBelievable(_second, outcomes))
            cell.ThicknessWallWallMetres = _velocity.WallToWallMetres(outcomes[_second].Echo.Seconds - firstSeconds);
    }

    private double Wall(
        in InterfaceEcho interfaceEcho,
        ReadOnlySpan<GateOutcome> outcomes,
        in GatedEcho to,
        bool withInterface
    )
    {
        if (_agreement)
            return withInterface
                ? Slope(interfaceEcho, outcomes[_first].Echo, to)
                : _velocity.WallToWallMetres(to.Seconds - outcomes[_first].Echo.Seconds);
        int steps = OrderOf(_to) - OrderOf(_from);
        return withInterface
            ? _velocity.InterfaceToWallMetres(to.Seconds - interfaceEcho.ReportedSeconds) / steps
            : _velocity.WallToWallMetres(to.Seconds - outcomes[_from].Echo.Seconds) / steps;
    }

    private double Slope(in InterfaceEcho interfaceEcho, in GatedEcho first, in GatedEcho second)
    {
        (double one, double two) = LineWeights(interfaceEcho.Echo, first, second);
        double t0 = interfaceEcho.ReportedSeconds + _velocity.ZeroSeconds + _velocity.CoatingSeconds;
        return _velocity.WallToWallMetres(one * (first.Seconds - t0) + two * (second.Seconds - t0));
    }

    private void Support(ref CellResult cell, bool withInterface)
    {
        bool agree =
            Math.Abs(cell.ThicknessInterfaceWallMetres - cell.ThicknessWallWallMetres)
            <= _procedure.Pairing.AgreementMetres;
        cell.EchoCount = (byte)(!withInterface || _agreement || agree ? 2 : 1);
        if (cell.EchoCount == 1)
            cell.Notes |= CellNotes.SingleEcho;
    }

    private double MarginOf(ReadOnlySpan<GateOutcome> outcomes)
    {
        double margin = outcomes[_to].Margin;
        if (_from >= 0)
            margin = Math.Min(margin, outcomes[_from].Margin);
        if (_agreement)
            margin = Math.Min(margin, outcomes[_first].Margin);
        return margin;
    }

    private static double Square(double value) => value * value;

    private int Find(string name)
    {
        for (int gate = 0; gate < _gates.Count; gate++)
        {
            if (_gates.NameOf(gate) == name)
                return gate;
        }
        return Missing;
    }
}
