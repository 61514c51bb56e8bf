namespace EchoToThickness.Simulation.Waves;

/// <summary>Attenuation by a power of frequency and the dispersion that causality joins to it.</summary>
/// <remarks>
/// <c>alpha = alpha0 (f / f0)^n</c>; <c>1/c(w) - 1/c(w1) = tan(pi n / 2) alpha1 (w^(n-1) - w1^(n-1))</c> with alpha = alpha1 w^n, for n = 1
/// <c>-(2/pi) alpha1 ln(w / w1)</c>. Source: Szabo, J. Acoust. Soc. Am. 97 (1995) 14, equations for power-law media. For n = 2 (and 4) the term vanishes; the law
/// holds for n below 3.
/// </remarks>
internal static class MetalAttenuation
{
    /// <summary>20 / ln 10.</summary>
    public static readonly double DecibelsPerNeper = 20 / Math.Log(10);

    /// <summary>Attenuation one way.</summary>
    /// <param name="settings">Settings.</param>
    /// <param name="frequencyHz">Frequency.</param>
    public static double NepersPerMetre(WaveSettings settings, double frequencyHz) =>
        settings.AttenuationDecibelsPerMetre
        / DecibelsPerNeper
        * Math.Pow(frequencyHz / settings.AttenuationFrequencyHz, settings.AttenuationPower);

    /// <summary>Phase of a metre one way beyond that of the velocity at the pulse's centre.</summary>
    /// <param name="settings">Settings.</param>
    /// <param name="frequencyHz">Frequency.</param>
    public static double RadiansPerMetre(WaveSettings settings, double frequencyHz)
    {
        if (!settings.Dispersion || settings.AttenuationDecibelsPerMetre == 0)
            return 0;
        double n = settings.AttenuationPower;
        double omega = 2 * Math.PI * frequencyHz;
        double centre = 2 * Math.PI * settings.Pulse.CentreHz;
        double alpha1 = NepersPerMetre(settings, settings.Pulse.CentreHz) / Math.Pow(centre, n);
        double slowness =
            Math.Abs(n - 1) < 1e-9
                ? -2 / Math.PI * alpha1 * Math.Log(omega / centre)
                : alpha1 * Math.Tan(Math.PI * n / 2) * (Math.Pow(omega, n - 1) - Math.Pow(centre, n - 1));
        return omega * slowness;
    }
}
