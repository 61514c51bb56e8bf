using EchoToThickness.Conditioning;
using EchoToThickness.Procedures;

namespace EchoToThickness.Picks;

/// <summary>Which picks and polarities a signal allows.</summary>
public static class PickChecks
{
    /// <summary>Refuses a pick or polarity that the signal cannot give.</summary>
    /// <param name="pick">Pick rule.</param>
    /// <param name="polarity">Polarity asked for.</param>
    /// <param name="conditioner">Owner of the signal.</param>
    /// <param name="section">Section of the procedure, for the message.</param>
    /// <exception cref="ProcedureException">The signal has no sign, or its frequency is not known.</exception>
    public static void Check(PickRule pick, PolarityChoice polarity, AScanConditioner conditioner, string section)
    {
        ArgumentNullException.ThrowIfNull(conditioner);
        bool signed = conditioner.IsSigned;
        if (!signed && pick is (PickRule.ZeroCrossing or PickRule.Correlation))
            throw new ProcedureException(
                $"The pick '{(pick == PickRule.ZeroCrossing ? "zero-crossing" : "correlation")}' needs the sign of the signal, which '{section}' does not look at.",
                $"{section}.pick",
                "set conditioning.signal = \"rf\", or use 'flank', 'peak' or 'envelope-peak'."
            );
        if (!signed && polarity != PolarityChoice.Either)
            throw new ProcedureException(
                $"A polarity needs the sign of the signal, which '{section}' does not look at.",
                $"{section}.polarity",
                "set conditioning.signal = \"rf\", or leave the polarity out."
            );
        if (pick == PickRule.Correlation && conditioner.CentreFrequencyHz is null)
            throw new ProcedureException(
                "The pick 'correlation' needs the frequency of the pulse, and neither the procedure's band nor the stack gives one.",
                $"{section}.pick",
                "set conditioning.band_low and band_high, or state the frequency of the stack."
            );
    }
}
