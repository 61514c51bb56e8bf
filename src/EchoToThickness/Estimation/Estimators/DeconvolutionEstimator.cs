using EchoToThickness.Echoes;
using EchoToThickness.Procedures;
using EchoToThickness.Signals;

namespace EchoToThickness.Estimation.Estimators;

/// <summary>
/// Wiener deconvolution of the record behind the interface by the reference echo; its good band is continued to both sides by an
/// autoregressive model (Burg), which narrows each echo to about a third.
/// </summary>
/// <remarks>
/// <c>H = W conj(S) / (|S|^2 + q)</c>, q from the measured noise; the part over -8 dB of the pulse is a sum of exponentials
/// <c>a_n exp(-j w tau_n)</c> and is extrapolated over the range 0 to 2 f. Since a model invents echoes where it is fed noise, the matched
/// filter of the record itself confirms what was found (SignalRatio). Honarvar, Sheikhzadeh, Moles and Sinclair, Ultrasonics 41 (2004) 755 (from memory).
/// </remarks>
public sealed class DeconvolutionEstimator : IThicknessEstimator
{
    /// <summary>-8 dB.</summary>
    private const double BandFraction = 0.4;

    /// <summary>The first reflector of this fraction of the strongest is the wall.</summary>
    private const double StrongFraction = 0.5;

    /// <inheritdoc/>
    public EstimationMethod Method => EstimationMethod.Deconvolution;

    /// <inheritdoc/>
    public SpacingEstimate Estimate(EstimationWorkspace workspace)
    {
        ArgumentNullException.ThrowIfNull(workspace);
        EchoSpectrum spectrum = workspace.Spectrum;
        if (!Respond(workspace, spectrum))
            return SpacingEstimate.None;
        // Walls are negative impulses of the response.
        ReadOnlySpan<double> response = spectrum.WorkReal;
        int first = Math.Max(1, (int)Math.Ceiling(workspace.Low - 1));
        int end = Math.Min(response.Length - 2, (int)Math.Floor(workspace.High + 1));
        double strongest = 0;
        for (int l = first; l <= end; l++)
            strongest = Math.Max(strongest, -response[l]);
        for (int l = first; l <= end; l++)
        {
            double here = -response[l];
            if (here < StrongFraction * strongest || here < -response[l - 1] || here < -response[l + 1] || here <= 0)
                continue;
            return Confirm(workspace, spectrum, l + SubSample.Parabola(-response[l - 1], here, -response[l + 1]));
        }
        return SpacingEstimate.None;
    }

    private static SpacingEstimate Confirm(EstimationWorkspace workspace, EchoSpectrum spectrum, double spacing)
    {
        (double real, _) = spectrum.MatchedAt(spectrum.WallReal, spectrum.WallImaginary, spacing);
        double share = -real / spectrum.Energy;
        double front = workspace.Record.Envelope[workspace.Front];
        return SpacingEstimate.None with
        {
            Found = true,
            SpacingSamples = spacing,
            BoundSamples = workspace.PairBound(front, Math.Max(share, 1e-6) * front),
            SignalRatio = share * Math.Sqrt(spectrum.Energy) / workspace.WhiteNoiseFraction,
            FirstOrder = 0,
            LastOrder = 1,
            Decay = 1,
            WallFraction = share * front,
        };
    }

    /// <summary>The impulse response behind the interface, into the work arrays of the spectrum.</summary>
    private static bool Respond(EstimationWorkspace workspace, EchoSpectrum spectrum)
    {
        int bins = spectrum.BinCount;
        double largest = 0;
        for (int k = 0; k < bins; k++)
            largest = Math.Max(largest, Power(spectrum, k));
        int first = 0;
        while (first < bins && Power(spectrum, first) < BandFraction * BandFraction * largest)
            first++;
        int end = bins;
        while (end > first && Power(spectrum, end - 1) < BandFraction * BandFraction * largest)
            end--;
        // The record is padded with zeros: bins finer than 1 / reach tell nothing new.
        int stride = Math.Max(1, spectrum.Length / FourierTransform.LengthFor(spectrum.Reach));
        int known = (end - first + stride - 1) / stride;
        int order = Math.Min(known / 3, 48);
        if (order < 2)
            return false;
        int full = 2 * (int)(spectrum.Length / workspace.Scale.Period) / stride;
        int origin = (spectrum.FirstBin + first) / stride;
        int count = Math.Max(full, origin + known + 1);
        Span<double> scratch = workspace.Scores;
        Span<double> real = scratch[..count];
        Span<double> imaginary = scratch.Slice(count, count);
        Span<double> coefficientsReal = scratch.Slice(2 * count, order);
        Span<double> coefficientsImaginary = scratch.Slice(2 * count + order, order);
        Span<double> rest = scratch[(2 * count + 2 * order)..];
        double noise = workspace.WhiteNoiseFraction * workspace.WhiteNoiseFraction * spectrum.Reach;
        // The strided grid lies this many bins off the multiples of the stride.
        int offset = spectrum.FirstBin + first - origin * stride;
        for (int i = 0; i < known; i++)
        {
            int k = first + i * stride;
            double power = Power(spectrum, k) + noise;
            (double sr, double si) = (spectrum.EchoReal[k], spectrum.EchoImaginary[k]);
            (double wr, double wi) = (spectrum.WallReal[k], spectrum.WallImaginary[k]);
            real[origin + i] = (wr * sr + wi * si) / power;
            imaginary[origin + i] = (wi * sr - wr * si) / power;
        }
        Span<double> knownReal = real.Slice(origin, known);
        Span<double> knownImaginary = imaginary.Slice(origin, known);
        AutoregressiveModel.Burg(knownReal, knownImaginary, coefficientsReal, coefficientsImaginary, rest);
        AutoregressiveModel.Extrapolate(
            real,
            imaginary,
            origin,
            origin + known,
            coefficientsReal,
            coefficientsImaginary
        );
        spectrum.FromBins(real, imaginary, stride, offset);
        return true;
    }

    private static double Power(EchoSpectrum spectrum, int k) =>
        spectrum.EchoReal[k] * spectrum.EchoReal[k] + spectrum.EchoImaginary[k] * spectrum.EchoImaginary[k];
}
