using System.Numerics;
using MathNet.Numerics.IntegralTransforms;

namespace EchoToThickness.Statistics.Spatial;

/// <summary>Regular patterns by the periodogram.</summary>
public static class Periodogram
{
    /// <summary>Periodogram of the mean profile along one axis.</summary>
    /// <param name="map">The map.</param>
    /// <param name="along">True: wavelengths along; false: around.</param>
    /// <remarks>
    /// The profile is the mean over the other axis, less its straight line; places without a measured cell take its mean. Fisher, Proc. R.
    /// Soc. A 125 (1929) 54: <c>P = sum (-1)^(k-1) C(m,k) (1 - k g)^(m-1)</c> for the largest share g of m frequencies.
    /// </remarks>
    public static PatternLine Of(ThicknessMap map, bool along)
    {
        ArgumentNullException.ThrowIfNull(map);
        int count = along ? map.AlongCount : map.AroundCount;
        if (count < 8)
            throw new StatisticsException(
                $"A periodogram of {count} places says nothing.",
                along ? "map, axis along" : "map, axis around",
                "use a map of at least 8 cells along this axis"
            );
        double pitch = along ? map.Axes.AlongPitchMetres : map.Axes.AroundPitchMetres;
        double[] profile = MeanProfile(map, along, count, out double filled);
        Detrend(profile);
        Complex[] spectrum = profile.Select(v => new Complex(v, 0)).ToArray();
        Fourier.Forward(spectrum, FourierOptions.NoScaling);
        int m = (count - 1) / 2;
        var power = new double[m];
        var wavelength = new double[m];
        for (int k = 1; k <= m; k++)
        {
            power[k - 1] = spectrum[k].Real * spectrum[k].Real + spectrum[k].Imaginary * spectrum[k].Imaginary;
            wavelength[k - 1] = count * pitch / k;
        }
        double sum = power.Sum();
        if (sum > 0)
            for (int k = 0; k < m; k++)
                power[k] /= sum;
        int peak = Array.IndexOf(power, power.Max());
        double probability = sum > 0 ? FisherProbability(power[peak], m) : 1;
        return new PatternLine(wavelength, power, wavelength[peak], probability, filled);
    }

    /// <summary>Probability that the largest share of m white-noise frequencies exceeds g.</summary>
    /// <param name="share">Largest share g.</param>
    /// <param name="frequencies">Number m.</param>
    public static double FisherProbability(double share, int frequencies)
    {
        double sum = 0;
        double binomial = 1;
        for (int k = 1; k <= frequencies && k * share < 1; k++)
        {
            binomial *= (double)(frequencies - k + 1) / k;
            double term = binomial * Math.Pow(1 - k * share, frequencies - 1);
            sum += k % 2 == 1 ? term : -term;
            if (term < 1e-14 * Math.Abs(sum))
                break;
            // Alternating terms of growing size: the probability is 1 to rounding.
            if (term > 1e8)
                return 1;
        }
        return Math.Clamp(sum, 0, 1);
    }

    private static double[] MeanProfile(ThicknessMap map, bool along, int count, out double filledFraction)
    {
        var sum = new double[count];
        var cells = new int[count];
        int n = map.AroundCount;
        ReadOnlySpan<double> wall = map.ThicknessMetres;
        for (int k = 0; k < wall.Length; k++)
        {
            if (double.IsNaN(wall[k]))
                continue;
            int place = along ? k / n : k % n;
            sum[place] += wall[k];
            cells[place]++;
        }
        double total = sum.Sum() / Math.Max(1, cells.Sum());
        int filled = 0;
        for (int k = 0; k < count; k++)
        {
            if (cells[k] == 0)
                filled++;
            sum[k] = cells[k] == 0 ? total : sum[k] / cells[k];
        }
        filledFraction = (double)filled / count;
        return sum;
    }

    private static void Detrend(double[] values)
    {
        double middle = (values.Length - 1) / 2.0;
        double mean = values.Average();
        double cross = 0;
        double spread = 0;
        for (int k = 0; k < values.Length; k++)
        {
            cross += (k - middle) * (values[k] - mean);
            spread += (k - middle) * (k - middle);
        }
        for (int k = 0; k < values.Length; k++)
            values[k] -= mean + cross / spread * (k - middle);
    }
}
