namespace EchoToThickness.Velocity;

/// <summary>
/// Plane wave at normal incidence on the plane between two media: pressure coefficients (Brekhovskikh, Waves in Layered Media;
/// Krautkraemer, chapter 2). Impedances in Pa·s/m, <c>Z = ρ c</c>.
/// </summary>
public static class PlaneInterface
{
    /// <summary>Reflected over incident pressure, <c>(Z₂ - Z₁) / (Z₂ + Z₁)</c>. Negative: the echo is turned over.</summary>
    /// <param name="firstImpedance">Impedance of the medium the wave comes from.</param>
    /// <param name="secondImpedance">Impedance of the medium behind.</param>
    public static double Reflection(double firstImpedance, double secondImpedance) =>
        (secondImpedance - firstImpedance) / (secondImpedance + firstImpedance);

    /// <summary>Transmitted over incident pressure, <c>2 Z₂ / (Z₁ + Z₂)</c>.</summary>
    /// <param name="firstImpedance">Impedance of the medium the wave comes from.</param>
    /// <param name="secondImpedance">Impedance of the medium behind.</param>
    public static double Transmission(double firstImpedance, double secondImpedance) =>
        2 * secondImpedance / (firstImpedance + secondImpedance);

    /// <summary>Pressure that is left after crossing there and back, <c>T₁₂ T₂₁ = 1 - R²</c>.</summary>
    /// <param name="firstImpedance">Impedance of one medium.</param>
    /// <param name="secondImpedance">Impedance of the other.</param>
    public static double TwoWayTransmission(double firstImpedance, double secondImpedance)
    {
        double sum = firstImpedance + secondImpedance;
        return 4 * firstImpedance * secondImpedance / (sum * sum);
    }
}
