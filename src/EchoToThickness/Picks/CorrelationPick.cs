using EchoToThickness.Signals;

namespace EchoToThickness.Picks;

/// <summary>The lag at which a reference echo fits best.</summary>
public static class CorrelationPick
{
    /// <summary>Best lag of a template within a stretch of RF samples.</summary>
    /// <param name="samples">Shape [lag + template - 1].</param>
    /// <param name="template">Shape [template]: the reference echo, with its sign.</param>
    /// <param name="sign">+1 when the echo has the sign of the reference, -1 when inverted, 0 when either may be.</param>
    /// <param name="scratch">Shape [lag] or longer.</param>
    /// <param name="path">Implementation.</param>
    /// <param name="coefficient">Correlation coefficient at the best whole lag, signed, -1 to 1.</param>
    /// <returns>Lag in samples from the start of the stretch, parabola through three lags; NaN when nothing fits with that sign.</returns>
    /// <exception cref="ArgumentException">The template is longer than the samples, or the scratch too short.</exception>
    /// <remarks>
    /// <c>argmax over l of sum over k of x[l + k] t[k]</c>; not divided by the local energy, so the strongest echo wins. For one echo in
    /// white noise this is the maximum-likelihood delay. Bias: of the parabola, at the centre frequency (under 0.002 sample at 20
    /// samples a cycle). A wrong cycle is the error to fear: the side lobes lie one cycle away.
    /// </remarks>
    public static double Best(
        ReadOnlySpan<float> samples,
        ReadOnlySpan<float> template,
        int sign,
        Span<float> scratch,
        KernelPath path,
        out double coefficient
    )
    {
        int lags = samples.Length - template.Length + 1;
        if (lags < 1 || template.IsEmpty)
            throw new ArgumentException(
                $"A template of {template.Length} does not fit into {samples.Length} samples.",
                nameof(template)
            );
        if (scratch.Length < lags)
            throw new ArgumentException(
                $"The scratch holds {scratch.Length} lags; {lags} are needed.",
                nameof(scratch)
            );
        Span<float> r = scratch[..lags];
        Correlation.Sliding(samples, template, r, path);
        if (sign < 0)
            NeighbourAverage.Scale(r, -1, path);
        int best = sign == 0 ? Magnitude.IndexOfLargest(r, path) : Magnitude.IndexOfLargestSigned(r, path);
        coefficient = 0;
        if (best < 0 || r[best] == 0 || (sign != 0 && r[best] < 0))
            return double.NaN;
        double direction = r[best] < 0 ? -1 : 1;
        double energy = Correlation.Energy(samples.Slice(best, template.Length)) * Correlation.Energy(template);
        coefficient = Math.Clamp((sign < 0 ? -r[best] : r[best]) / Math.Sqrt(energy), -1, 1);
        if (best == 0 || best == lags - 1)
            return best;
        return best + SubSample.Parabola(direction * r[best - 1], direction * r[best], direction * r[best + 1]);
    }
}
