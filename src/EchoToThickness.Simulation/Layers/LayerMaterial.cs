using System.Numerics;

namespace EchoToThickness.Simulation.Layers;

/// <summary>What a plane longitudinal wave must know of a layer, at normal incidence.</summary>
/// <param name="VelocityMetresPerSecond">Phase velocity; taken as the same at all frequencies.</param>
/// <param name="DensityKilogramsPerCubicMetre">Density.</param>
/// <param name="AttenuationNepersPerMetre">Attenuation of the amplitude at the reference frequency; 1 neper = 8.686 dB.</param>
/// <param name="AttenuationFrequencyHz">That frequency, hertz.</param>
/// <param name="AttenuationPower">Power of the frequency with which attenuation grows: 2 liquids, 0 to 4 solids.</param>
/// <remarks>
/// The wave number is <c>k = ω / c - i α(ω)</c> for waves <c>exp(i (ω t - k x))</c>, with <c>α = α0 (f / f0)^n</c>. The dispersion that
/// causality would ask for beside it (Kramers and Kronig; T. L. Szabo, "Causal theories and data for acoustic attenuation obeying a
/// frequency power law", J. Acoust. Soc. Am. 97, 1995) is left out: with n = 1 and 0.1 dB/mm at 7 MHz it would change the velocity of
/// steel by 3e-4 between 7 and 9 MHz, with n = 2 not at all.
/// </remarks>
public readonly record struct LayerMaterial(
    double VelocityMetresPerSecond,
    double DensityKilogramsPerCubicMetre,
    double AttenuationNepersPerMetre = 0,
    double AttenuationFrequencyHz = 1e6,
    double AttenuationPower = 1
)
{
    /// <summary>Nepers in a decibel, ln(10) / 20.</summary>
    public const double NepersPerDecibel = 0.11512925464970228;

    /// <summary>Complex wave number.</summary>
    /// <param name="angularFrequency">Radians per second; may be complex (a damped wave), with a real part that is not negative.</param>
    /// <returns>Radians per metre; the imaginary part is not positive for real frequencies.</returns>
    public Complex WaveNumber(Complex angularFrequency)
    {
        Complex number = angularFrequency / VelocityMetresPerSecond;
        if (AttenuationNepersPerMetre == 0)
            return number;
        Complex ratio = angularFrequency / (2 * Math.PI * AttenuationFrequencyHz);
        return number - Complex.ImaginaryOne * AttenuationNepersPerMetre * Power(ratio);
    }

    /// <summary>Characteristic impedance for pressure, <c>ρ ω / k</c>.</summary>
    /// <param name="angularFrequency">Radians per second.</param>
    /// <returns>Pascal seconds per metre; at frequency 0 the lossless <c>ρ c</c>.</returns>
    public Complex Impedance(Complex angularFrequency) =>
        AttenuationNepersPerMetre == 0 || angularFrequency == Complex.Zero
            ? DensityKilogramsPerCubicMetre * VelocityMetresPerSecond
            : DensityKilogramsPerCubicMetre * angularFrequency / WaveNumber(angularFrequency);

    internal void Check(string parameter)
    {
        if (!(VelocityMetresPerSecond > 0) || !double.IsFinite(VelocityMetresPerSecond))
            throw new ArgumentException($"A velocity of {VelocityMetresPerSecond} m/s is not positive.", parameter);
        if (!(DensityKilogramsPerCubicMetre > 0) || !double.IsFinite(DensityKilogramsPerCubicMetre))
            throw new ArgumentException(
                $"A density of {DensityKilogramsPerCubicMetre} kg/m3 is not positive.",
                parameter
            );
        if (!(AttenuationNepersPerMetre >= 0) || !double.IsFinite(AttenuationNepersPerMetre))
            throw new ArgumentException($"An attenuation of {AttenuationNepersPerMetre} Np/m is negative.", parameter);
        if (!(AttenuationFrequencyHz > 0) || !(AttenuationPower is >= 0 and <= 8))
            throw new ArgumentException(
                $"An attenuation at {AttenuationFrequencyHz} Hz with the power {AttenuationPower} cannot be; the power is 0 to 8.",
                parameter
            );
    }

    private Complex Power(Complex ratio)
    {
        if (AttenuationPower == 0)
            return Complex.One;
        if (AttenuationPower == 1)
            return ratio;
        if (AttenuationPower == 2)
            return ratio * ratio;
        return Complex.Pow(ratio, AttenuationPower);
    }
}
