using MathNet.Numerics.LinearAlgebra;

namespace EchoToThickness.Uncertainty;

/// <summary>
/// Cramér-Rao bounds: the smallest standard deviation that any unbiased estimator of a delay can have for a pulse of known shape in
/// white noise. They hold above the threshold signal-to-noise ratio; below it whole cycles are missed and no bound here applies.
/// </summary>
/// <remarks>Kay, Fundamentals of Statistical Signal Processing: Estimation Theory (1993), example 3.13, discrete form.</remarks>
public static class CramerRao
{
    /// <summary>Delay of one echo, <c>σ / (a sqrt(Σ s'(nT)²))</c>, seconds.</summary>
    /// <param name="pulse">Pulse of peak 1.</param>
    /// <param name="amplitude">Peak amplitude a of the echo.</param>
    /// <param name="noise">Standard deviation of the white noise, per sample, same unit as the amplitude.</param>
    /// <param name="sampleRateHz">Sample rate.</param>
    public static double DelaySeconds(GaussianPulse pulse, double amplitude, double noise, double sampleRateHz)
    {
        ArgumentNullException.ThrowIfNull(pulse);
        return noise / (amplitude * Math.Sqrt(SlopeSum(pulse, sampleRateHz)));
    }

    /// <summary>Delay of one echo from its energy, <c>1 / (2π f_rms sqrt(SNR_E))</c>, seconds.</summary>
    /// <param name="rmsBandwidthHz">Root-mean-square bandwidth about zero frequency.</param>
    /// <param name="energyToNoise">SNR_E = Σ (a s)² / σ²: energy over the noise variance of one sample.</param>
    public static double DelaySeconds(double rmsBandwidthHz, double energyToNoise) =>
        1 / (2 * Math.PI * rmsBandwidthHz * Math.Sqrt(energyToNoise));

    /// <summary>Separation of two echoes of the same pulse that may overlap, seconds.</summary>
    /// <param name="pulse">Pulse of peak 1.</param>
    /// <param name="firstAmplitude">Peak amplitude of the earlier echo.</param>
    /// <param name="secondAmplitude">Peak amplitude of the later echo.</param>
    /// <param name="separationSeconds">True separation.</param>
    /// <param name="noise">Standard deviation of the white noise, per sample.</param>
    /// <param name="sampleRateHz">Sample rate.</param>
    /// <param name="amplitudesKnown">Whether the amplitudes are known; unknown ones cost where echoes overlap.</param>
    /// <remarks>Inverse of the Fisher information of both delays (and amplitudes); compare Zeira and Schultheiss 1990, 1993.</remarks>
    public static double SeparationSeconds(
        GaussianPulse pulse,
        double firstAmplitude,
        double secondAmplitude,
        double separationSeconds,
        double noise,
        double sampleRateHz,
        bool amplitudesKnown
    )
    {
        Matrix<double> covariance = Covariance(
            pulse,
            firstAmplitude,
            secondAmplitude,
            separationSeconds,
            noise,
            sampleRateHz,
            amplitudesKnown
        );
        return Math.Sqrt(covariance[0, 0] + covariance[1, 1] - 2 * covariance[0, 1]);
    }

    /// <summary>Delay of the earlier of two echoes whose amplitudes are unknown, seconds.</summary>
    /// <param name="pulse">Pulse of peak 1.</param>
    /// <param name="firstAmplitude">Peak amplitude of the earlier echo.</param>
    /// <param name="secondAmplitude">Peak amplitude of the later echo; the bound does not depend on it.</param>
    /// <param name="separationSeconds">True separation.</param>
    /// <param name="noise">Standard deviation of the white noise, per sample.</param>
    /// <param name="sampleRateHz">Sample rate.</param>
    public static double FirstDelaySeconds(
        GaussianPulse pulse,
        double firstAmplitude,
        double secondAmplitude,
        double separationSeconds,
        double noise,
        double sampleRateHz
    ) =>
        Math.Sqrt(
            Covariance(pulse, firstAmplitude, secondAmplitude, separationSeconds, noise, sampleRateHz, false)[0, 0]
        );

    /// <summary>
    /// Spacing of a whole train of known pulse, <c>a0 s(t - t0) - sum over n of b rho^(n-1) s(t - t0 - n tau)</c>, with t0, a0, b and rho unknown,
    /// seconds: what no unbiased estimator of the wall can undercut on a plate over air.
    /// </summary>
    /// <param name="pulse">Pulse of peak 1.</param>
    /// <param name="interfaceAmplitude">a0.</param>
    /// <param name="wallAmplitude">b, of back-wall echo 1.</param>
    /// <param name="decay">rho, of an echo against the one before.</param>
    /// <param name="spacingSeconds">tau.</param>
    /// <param name="leadSeconds">Record in front of the interface.</param>
    /// <param name="tailSeconds">Record behind the interface.</param>
    /// <param name="noise">Standard deviation of the white noise, per sample.</param>
    /// <param name="sampleRateHz">Sample rate.</param>
    /// <remarks>Inverse of the Fisher information (Kay 1993, section 3.9), overlap and the record's end included; rho is taken as known where one echo fits.</remarks>
    public static double TrainSpacingSeconds(
        GaussianPulse pulse,
        double interfaceAmplitude,
        double wallAmplitude,
        double decay,
        double spacingSeconds,
        double leadSeconds,
        double tailSeconds,
        double noise,
        double sampleRateHz
    )
    {
        ArgumentNullException.ThrowIfNull(pulse);
        double scale = pulse.DeviationSeconds;
        int unknowns = tailSeconds > 2 * spacingSeconds + scale ? 5 : 4;
        var fisher = Matrix<double>.Build.Dense(unknowns, unknowns);
        int echoes = (int)((tailSeconds + 9 * scale) / spacingSeconds) + 1;
        Span<double> gradient = stackalloc double[5];
        for (int n = -(int)(leadSeconds * sampleRateHz); n <= (int)(tailSeconds * sampleRateHz); n++)
        {
            double t = n / sampleRateHz;
            gradient.Clear();
            gradient[1] = -interfaceAmplitude * pulse.Derivative(t) * scale;
            gradient[2] = pulse.Value(t);
            double weight = 1;
            double byDecay = 0;
            for (int order = 1; order <= echoes; order++, byDecay = (order - 1) * weight, weight *= decay)
            {
                double u = t - order * spacingSeconds;
                if (Math.Abs(u) > 9 * scale)
                    continue;
                double slope = wallAmplitude * weight * pulse.Derivative(u) * scale;
                gradient[0] += order * slope;
                gradient[1] += slope;
                gradient[3] -= weight * pulse.Value(u);
                gradient[4] -= wallAmplitude * byDecay * pulse.Value(u);
            }
            for (int i = 0; i < unknowns; i++)
            for (int j = 0; j < unknowns; j++)
                fisher[i, j] += gradient[i] * gradient[j];
        }
        return Math.Sqrt(fisher.Inverse()[0, 0]) * noise * scale;
    }

    /// <summary>A bound on the wall from one on a round-trip time, <c>c σ / 2</c>, metres.</summary>
    /// <param name="timeSeconds">Standard deviation of the round-trip time.</param>
    /// <param name="velocityMetresPerSecond">Velocity.</param>
    public static double ThicknessMetres(double timeSeconds, double velocityMetresPerSecond) =>
        velocityMetresPerSecond / 2 * timeSeconds;

    private static Matrix<double> Covariance(
        GaussianPulse pulse,
        double firstAmplitude,
        double secondAmplitude,
        double separationSeconds,
        double noise,
        double sampleRateHz,
        bool amplitudesKnown
    )
    {
        ArgumentNullException.ThrowIfNull(pulse);
        int unknowns = amplitudesKnown ? 2 : 4;
        var fisher = Matrix<double>.Build.Dense(unknowns, unknowns);
        int reach = (int)Math.Ceiling(9 * pulse.DeviationSeconds * sampleRateHz);
        int last = reach + (int)Math.Ceiling(separationSeconds * sampleRateHz);
        // Scaled unknowns (delay in σ_t) keep the matrix well conditioned.
        double scale = pulse.DeviationSeconds;
        Span<double> gradient = stackalloc double[4];
        for (int n = -reach; n <= last; n++)
        {
            double t = n / sampleRateHz;
            gradient[0] = -firstAmplitude * pulse.Derivative(t) * scale;
            gradient[1] = -secondAmplitude * pulse.Derivative(t - separationSeconds) * scale;
            gradient[2] = pulse.Value(t);
            gradient[3] = pulse.Value(t - separationSeconds);
            for (int i = 0; i < unknowns; i++)
            for (int j = 0; j < unknowns; j++)
                fisher[i, j] += gradient[i] * gradient[j];
        }
        return fisher.Inverse() * (noise * noise * scale * scale);
    }

    private static double SlopeSum(GaussianPulse pulse, double sampleRateHz)
    {
        int reach = (int)Math.Ceiling(9 * pulse.DeviationSeconds * sampleRateHz);
        double sum = 0;
        for (int n = -reach; n <= reach; n++)
            sum += Math.Pow(pulse.Derivative(n / sampleRateHz), 2);
        return sum;
    }
}
