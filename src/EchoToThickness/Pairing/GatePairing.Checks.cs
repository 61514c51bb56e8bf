using EchoToThickness.Gating;
using EchoToThickness.InterfaceSync;
using EchoToThickness.Picks;
using EchoToThickness.Procedures;

namespace EchoToThickness.Pairing;

// What speaks against a wall: refusals before it is computed, notes on its echoes, and the comparison of its two measurements after.
public sealed partial class GatePairing
{
    private CellStatus Refusal(in InterfaceEcho interfaceEcho, ReadOnlySpan<GateOutcome> outcomes, ref CellResult cell)
    {
        bool fromInterface = _from == Interface;
        bool ownInterface = interfaceEcho.Echo.Found;
        if (!interfaceEcho.HasTime && (fromInterface || _gates.NeedsInterface(_from) || _gates.NeedsInterface(_to)))
            return CellStatus.NoInterfaceEcho;
        if (fromInterface && !ownInterface && !_agreement)
            return CellStatus.NoInterfaceEcho;
        bool usesInterface = fromInterface && ownInterface;
        Span<int> gates = [_from, _to, _agreement ? _first : Missing];
        foreach (int gate in gates)
        {
            if (gate < 0)
                continue;
            if (outcomes[gate].CutByRecord)
                cell.Notes |= CellNotes.GateCutByRecord;
            if (outcomes[gate].IsRingDown)
                cell.Notes |= CellNotes.RingDownRejected;
        }
        foreach (int gate in gates)
        {
            if (gate >= 0 && (!outcomes[gate].Echo.Found || outcomes[gate].IsRingDown))
                return CellStatus.NoBackWallEcho;
        }
        double snr = usesInterface ? SnrDecibels(interfaceEcho.Echo) : LargestSnrDecibels;
        bool clipped = false;
        if (usesInterface && interfaceEcho.Echo.Saturated)
        {
            cell.Notes |= CellNotes.InterfaceSaturated;
            clipped |= LosesItsPeak(_procedure.Interface.Pick);
        }
        foreach (int gate in gates)
        {
            if (gate < 0)
                continue;
            snr = Math.Min(snr, SnrDecibels(outcomes[gate].Echo));
            if (!outcomes[gate].Echo.Saturated)
                continue;
            cell.Notes |= CellNotes.BackWallSaturated;
            clipped |= LosesItsPeak(_gates.SettingsOf(gate).Pick);
        }
        cell.SignalToNoiseDecibels = snr;
        if (!(snr >= _procedure.Pairing.MinimumSnrDecibels))
            return CellStatus.LowSignalToNoise;
        return clipped ? CellStatus.Saturated : CellStatus.Measured;
    }

    private void Annotate(
        in InterfaceEcho interfaceEcho,
        ReadOnlySpan<GateOutcome> outcomes,
        bool withInterface,
        ref CellResult cell
    )
    {
        // A clipped echo's sign is not judged: its two rails may be equally high.
        int polarity = withInterface && !interfaceEcho.Echo.Saturated ? -interfaceEcho.Echo.Polarity : 0;
        Span<int> gates = [_from, _agreement ? _first : Missing, _to];
        foreach (int gate in gates)
        {
            if (gate < 0)
                continue;
            GatedEcho echo = outcomes[gate].Echo;
            int sign = echo.Saturated ? 0 : echo.Polarity;
            if (polarity != 0 && sign != 0 && sign != polarity)
                cell.Notes |= CellNotes.PolarityUnexpected;
            if (polarity == 0)
                polarity = sign;
            if (NearCouplantMultiple(echo, interfaceEcho))
                cell.Notes |= CellNotes.CouplantMultipleNear;
        }
        if (!withInterface)
            cell.Notes |= CellNotes.WithoutInterface;
    }

    private bool NearCouplantMultiple(in GatedEcho echo, in InterfaceEcho interfaceEcho)
    {
        double period = _conditioner.PeriodSeconds;
        double couplant = interfaceEcho.ReportedSeconds;
        return Math.Abs(echo.Seconds - 2 * couplant) < period || Math.Abs(echo.Seconds - 3 * couplant) < period;
    }

    // Compares interface to wall (A) with wall to wall (B) and says whether the cell stands.
    private CellStatus Compare(ReadOnlySpan<GateOutcome> outcomes, double wall, bool withInterface, ref CellResult cell)
    {
        double a = cell.ThicknessInterfaceWallMetres;
        double b = cell.ThicknessWallWallMetres;
        if (double.IsNaN(a) || double.IsNaN(b))
            return CellStatus.Measured;
        double tolerance = _procedure.Pairing.AgreementMetres;
        double smaller = Math.Min(a, b);
        double larger = Math.Max(a, b);
        if (larger - smaller <= tolerance)
            return Grows(outcomes, ref cell) ? CellStatus.AmbiguousPairing : CellStatus.Measured;
        bool named = false;
        if (Math.Abs(larger - 2 * smaller) <= tolerance)
        {
            cell.Notes |= CellNotes.DoubledWallRejected;
            named = true;
        }
        else if (Math.Abs(larger - _convertedRatio * smaller) <= tolerance)
        {
            cell.Notes |= CellNotes.ModeConvertedEcho;
            named = true;
        }
        else if (a > b)
        {
            cell.Notes |= CellNotes.CoatingSuspected;
        }
        if (_agreement && withInterface)
        {
            cell.RunnerUpThicknessMetres = smaller;
            return CellStatus.AmbiguousPairing;
        }
        if (!named)
            return CellStatus.Measured;
        bool restsOnLarger = Math.Abs(wall - larger) <= Math.Abs(wall - smaller);
        cell.RunnerUpThicknessMetres = restsOnLarger ? smaller : larger;
        return restsOnLarger ? CellStatus.AmbiguousPairing : CellStatus.Measured;
    }

    // Equal spacings, but the second echo is stronger than the first: the first is not the wall's, the wall may be twice as thick.
    private bool Grows(ReadOnlySpan<GateOutcome> outcomes, ref CellResult cell)
    {
        GatedEcho first = outcomes[_first].Echo;
        GatedEcho second = outcomes[_second].Echo;
        if (
            first.Saturated
            || second.Run.AmplitudeFraction <= GrowthRatio * first.Run.AmplitudeFraction
            || Math.Abs(second.Seconds - 2 * cell.InterfaceSeconds) < _conditioner.PeriodSeconds
            || Math.Abs(second.Seconds - 3 * cell.InterfaceSeconds) < _conditioner.PeriodSeconds
        )
            return false;
        cell.Notes |= CellNotes.HalvedWallRejected;
        cell.RunnerUpThicknessMetres = cell.ThicknessInterfaceWallMetres + cell.ThicknessWallWallMetres;
        return true;
    }

    private bool IsBelievable(in InterfaceEcho interfaceEcho) =>
        interfaceEcho.Echo.Found
        && SnrDecibels(interfaceEcho.Echo) >= _procedure.Pairing.MinimumSnrDecibels
        && !(interfaceEcho.Echo.Saturated && LosesItsPeak(_procedure.Interface.Pick));

    private bool IsBelievable(int gate, ReadOnlySpan<GateOutcome> outcomes) =>
        outcomes[gate].Echo.Found
        && !outcomes[gate].IsRingDown
        && SnrDecibels(outcomes[gate].Echo) >= _procedure.Pairing.MinimumSnrDecibels
        && !(outcomes[gate].Echo.Saturated && LosesItsPeak(_gates.SettingsOf(gate).Pick));

    // The position of a maximum that is cut off is not known; flank, zero crossing and correlation survive.
    private static bool LosesItsPeak(PickRule pick) => pick is PickRule.Peak or PickRule.EnvelopePeak;
}
