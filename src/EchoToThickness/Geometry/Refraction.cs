namespace EchoToThickness.Geometry;

/// <summary>Snell's law between two media.</summary>
public static class Refraction
{
    /// <summary>Angle behind the interface, <c>asin(sin θ₁ v₂ / v₁)</c>.</summary>
    /// <param name="angleRadians">Angle to the normal in the first medium.</param>
    /// <param name="firstMetresPerSecond">Velocity in the first medium.</param>
    /// <param name="secondMetresPerSecond">Velocity in the second medium.</param>
    /// <returns>Angle to the normal in the second medium; null beyond the critical angle, where no such wave enters.</returns>
    public static double? AngleRadians(double angleRadians, double firstMetresPerSecond, double secondMetresPerSecond)
    {
        double sine = Math.Sin(angleRadians) * secondMetresPerSecond / firstMetresPerSecond;
        return Math.Abs(sine) <= 1 ? Math.Asin(sine) : null;
    }

    /// <summary>Critical angle, <c>asin(v₁ / v₂)</c>; null when the second medium is not the faster one.</summary>
    /// <param name="firstMetresPerSecond">Velocity in the first medium.</param>
    /// <param name="secondMetresPerSecond">Velocity in the second medium.</param>
    public static double? CriticalAngleRadians(double firstMetresPerSecond, double secondMetresPerSecond) =>
        firstMetresPerSecond < secondMetresPerSecond ? Math.Asin(firstMetresPerSecond / secondMetresPerSecond) : null;
}
