using System.Runtime.CompilerServices;

namespace EchoToThickness.Signals;

/// <summary>
/// Position of a peak between samples, in samples from the middle one, from three values (or an analytic value). All are clipped to
/// half a sample, and 0 where the three values have no peak.
/// </summary>
public static class SubSample
{
    /// <summary>Vertex of the parabola through three values: <c>(y- - y+) / (2 (y- - 2 y0 + y+))</c>.</summary>
    /// <param name="before">Value one sample before.</param>
    /// <param name="middle">Value at the largest sample.</param>
    /// <param name="after">Value one sample after.</param>
    /// <remarks>
    /// Pulled towards the samples: on a cosine of angular frequency w per sample and true offset d the estimate is
    /// <c>tan(w d) / (2 tan(w / 2))</c>; at 20 samples a cycle the error is at most 0.0016 sample, at 4 samples 0.045. Unbiased at 0 and
    /// at half a sample. Behaviour described by Cespedes et al., Ultrasonic Imaging 17 (1995) 142 (from memory).
    /// </remarks>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static double Parabola(double before, double middle, double after)
    {
        double curvature = before - 2 * middle + after;
        if (!(curvature < 0))
            return 0;
        double offset = 0.5 * (before - after) / curvature;
        return offset > 0.5 ? 0.5
            : offset < -0.5 ? -0.5
            : offset;
    }

    /// <summary>Peak of the cosine through three values; exact on a pure cosine.</summary>
    /// <param name="before">Value one sample before.</param>
    /// <param name="middle">Value at the largest sample.</param>
    /// <param name="after">Value one sample after.</param>
    /// <remarks>
    /// <c>w = acos((y- + y+) / (2 y0))</c>, <c>offset = atan((y+ - y-) / (2 y0 sin w)) / w</c>. Falls back on the parabola where no cosine
    /// fits (y0 not above the mean of its neighbours, or not positive).
    /// </remarks>
    public static double Cosine(double before, double middle, double after)
    {
        double c = (before + after) / (2 * middle);
        if (!(middle > 0) || !(c > -1 && c < 1))
            return Parabola(before, middle, after);
        double omega = Math.Acos(c);
        double offset = Math.Atan((after - before) / (2 * middle * Math.Sin(omega))) / omega;
        return Math.Clamp(offset, -0.5, 0.5);
    }

    /// <summary>Vertex of the parabola through three logarithms; exact on a Gaussian envelope.</summary>
    /// <param name="before">Value one sample before.</param>
    /// <param name="middle">Value at the largest sample.</param>
    /// <param name="after">Value one sample after.</param>
    /// <remarks>Falls back on <see cref="Parabola"/> where a value is not positive.</remarks>
    public static double Gaussian(double before, double middle, double after) =>
        before > 0 && middle > 0 && after > 0
            ? Parabola(Math.Log(before), Math.Log(middle), Math.Log(after))
            : Parabola(before, middle, after);

    /// <summary>
    /// Distance to the instant at which the phase of an analytic value is zero: <c>-arg(z) / w</c>. Exact where phase advances by w per
    /// sample; unlike an envelope peak it knows the carrier, and like any phase it repeats every cycle.
    /// </summary>
    /// <param name="real">Real part.</param>
    /// <param name="imaginary">Imaginary part.</param>
    /// <param name="radiansPerSample">Angular frequency w, between 0 and pi.</param>
    /// <returns>Samples, within half a cycle; not clipped to half a sample.</returns>
    public static double Phase(double real, double imaginary, double radiansPerSample)
    {
        if (!(radiansPerSample > 0 && radiansPerSample < Math.PI))
            throw new ArgumentOutOfRangeException(
                nameof(radiansPerSample),
                radiansPerSample,
                "The angular frequency must lie between 0 and pi radians a sample."
            );
        return -Math.Atan2(imaginary, real) / radiansPerSample;
    }
}
