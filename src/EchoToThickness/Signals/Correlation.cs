using System.Runtime.InteropServices;

namespace EchoToThickness.Signals;

/// <summary>Correlation by direct sums: short templates against a range of lags, and autocorrelation. Every path gives the same bits.</summary>
public static class Correlation
{
    /// <summary>Sliding dot products: <c>r[l] = sum over k of x[l + k] t[k]</c>.</summary>
    /// <param name="samples">Shape [lag + template - 1].</param>
    /// <param name="template">Shape [template], at least one.</param>
    /// <param name="result">Shape [lag], <c>samples - template + 1</c> values; must not overlap the samples.</param>
    /// <param name="path">Implementation.</param>
    /// <exception cref="ArgumentException">Lengths that do not fit, or overlap.</exception>
    /// <remarks>As numpy.correlate in mode "valid".</remarks>
    public static void Sliding(
        ReadOnlySpan<float> samples,
        ReadOnlySpan<float> template,
        Span<float> result,
        KernelPath path
    )
    {
        Check(samples, template, result);
        FirKernels.Real(
            ref MemoryMarshal.GetReference(samples),
            template,
            ref MemoryMarshal.GetReference(result),
            result.Length,
            path
        );
    }

    /// <summary>
    /// Sliding dot products over the geometric mean of the energies: <c>r[l] = sum x t / sqrt(sum x^2 sum t^2)</c>, between -1 and 1; 0
    /// where the samples under the template are all zero.
    /// </summary>
    /// <param name="samples">Shape [lag + template - 1].</param>
    /// <param name="template">Shape [template], at least one.</param>
    /// <param name="result">Shape [lag], <c>samples - template + 1</c> values; must not overlap the samples.</param>
    /// <param name="path">Implementation.</param>
    /// <exception cref="ArgumentException">Lengths that do not fit, or overlap.</exception>
    /// <remarks>The sliding energy is a running sum in double precision; samples within 1e-14 of the largest energy seen count as zero.</remarks>
    public static void SlidingNormalised(
        ReadOnlySpan<float> samples,
        ReadOnlySpan<float> template,
        Span<float> result,
        KernelPath path
    )
    {
        Sliding(samples, template, result, path);
        double templateEnergy = Energy(template);
        double energy = Energy(samples[..template.Length]);
        double largest = energy;
        for (int l = 0; l < result.Length; l++)
        {
            double both = energy * templateEnergy;
            result[l] = energy > 1e-14 * largest && both > 0 ? (float)Bounded(result[l] / Math.Sqrt(both)) : 0;
            if (l + 1 < result.Length)
            {
                energy += (double)samples[l + template.Length] * samples[l + template.Length];
                largest = Math.Max(largest, energy);
                energy -= (double)samples[l] * samples[l];
            }
        }
    }

    /// <summary>
    /// As <see cref="SlidingNormalised"/> with the means of template and of the samples under it removed (Pearson's coefficient): blind
    /// to an offset of the record. 0 where the samples under the template are constant.
    /// </summary>
    /// <param name="samples">Shape [lag + template - 1].</param>
    /// <param name="template">Shape [template], at least one.</param>
    /// <param name="centred">Shape [template]: scratch, takes the template without its mean.</param>
    /// <param name="result">Shape [lag], <c>samples - template + 1</c> values; must not overlap the samples.</param>
    /// <param name="path">Implementation.</param>
    /// <exception cref="ArgumentException">Lengths that do not fit, or overlap.</exception>
    public static void SlidingCentred(
        ReadOnlySpan<float> samples,
        ReadOnlySpan<float> template,
        Span<float> centred,
        Span<float> result,
        KernelPath path
    )
    {
        if (centred.Length != template.Length)
            throw new ArgumentException("The scratch must be as long as the template.", nameof(centred));
        double mean = 0;
        foreach (float t in template)
            mean += t;
        mean /= template.Length;
        for (int k = 0; k < template.Length; k++)
            centred[k] = (float)(template[k] - mean);
        Sliding(samples, centred, result, path);
        double templateEnergy = Energy(centred);
        double sum = 0;
        foreach (float x in samples[..template.Length])
            sum += x;
        double energy = Energy(samples[..template.Length]);
        double largest = energy;
        for (int l = 0; l < result.Length; l++)
        {
            double spread = energy - sum * sum / template.Length;
            result[l] =
                spread > 1e-13 * largest && templateEnergy > 0
                    ? (float)Bounded(result[l] / Math.Sqrt(spread * templateEnergy))
                    : 0;
            if (l + 1 < result.Length)
            {
                double entering = samples[l + template.Length];
                double leaving = samples[l];
                energy += entering * entering;
                largest = Math.Max(largest, energy);
                energy -= leaving * leaving;
                sum += entering - leaving;
            }
        }
    }

    /// <summary>Autocorrelation over a range of lags: <c>r[l] = sum over i of x[i] x[i + l]</c>, terms outside the record left out.</summary>
    /// <param name="samples">Shape [sample].</param>
    /// <param name="firstLag">First lag, not negative.</param>
    /// <param name="result">Shape [lag]; must not overlap the samples.</param>
    /// <param name="scratch">Shape [sample + first lag + lags] or longer.</param>
    /// <param name="path">Implementation.</param>
    /// <exception cref="ArgumentException">The scratch is too short, or buffers overlap.</exception>
    /// <remarks>Not divided by anything; divide by <c>r[0]</c>, the energy, for a coefficient (divisor-n convention).</remarks>
    public static void Auto(
        ReadOnlySpan<float> samples,
        int firstLag,
        Span<float> result,
        Span<float> scratch,
        KernelPath path
    )
    {
        ArgumentOutOfRangeException.ThrowIfNegative(firstLag);
        int needed = samples.Length + firstLag + result.Length;
        if (scratch.Length < needed)
            throw new ArgumentException(
                $"The scratch holds {scratch.Length} samples; {needed} are needed.",
                nameof(scratch)
            );
        if (samples.Overlaps(scratch) || samples.Overlaps(result) || scratch.Overlaps(result))
            throw new ArgumentException("The buffers must not overlap.", nameof(scratch));
        if (result.IsEmpty || samples.IsEmpty)
        {
            result.Clear();
            return;
        }
        samples.CopyTo(scratch);
        scratch[samples.Length..needed].Clear();
        FirKernels.Real(ref scratch[firstLag], samples, ref MemoryMarshal.GetReference(result), result.Length, path);
    }

    /// <summary>Energy: the sum of squares, in double precision.</summary>
    /// <param name="samples">Shape [sample].</param>
    public static double Energy(ReadOnlySpan<float> samples)
    {
        double sum = 0;
        foreach (float x in samples)
            sum += (double)x * x;
        return sum;
    }

    // Single-precision dot products can push a perfect match past 1 by rounding.
    private static double Bounded(double coefficient) => Math.Clamp(coefficient, -1, 1);

    private static void Check(ReadOnlySpan<float> samples, ReadOnlySpan<float> template, Span<float> result)
    {
        if (template.IsEmpty || result.Length != samples.Length - template.Length + 1)
            throw new ArgumentException(
                $"{samples.Length} samples and a template of {template.Length} give "
                    + $"{samples.Length - template.Length + 1} lags, not {result.Length}.",
                nameof(result)
            );
        if (samples.Overlaps(result) || template.Overlaps(result))
            throw new ArgumentException("The result must not overlap its inputs.", nameof(result));
    }
}
