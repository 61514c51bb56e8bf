using EchoToThickness.Signals;

namespace EchoToThickness.Estimation.Estimators;

/// <summary>Finds the first strong maximum of an analytic function of lag, and its multiples.</summary>
internal static class LagPeaks
{
    /// <summary>The first echo whose envelope reaches this fraction of the strongest.</summary>
    private const double StrongFraction = 0.6;

    /// <summary>
    /// Whole lag of the largest real value about the first strong envelope maximum of a range; about the largest envelope where the range is
    /// under 2.5 periods wide.
    /// </summary>
    /// <returns>The lag; -1 when no real value there is positive.</returns>
    public static int First(
        ReadOnlySpan<double> real,
        ReadOnlySpan<double> imaginary,
        double sign,
        double low,
        double high,
        double period
    )
    {
        int first = Math.Max(1, (int)Math.Ceiling(low - 1));
        int end = Math.Min(real.Length - 2, (int)Math.Floor(high + 1));
        if (end <= first)
            return -1;
        if (end - first < 2.5 * period)
            return Largest(real, sign, first, end);
        double strongest = 0;
        for (int l = first; l <= end; l++)
            strongest = Math.Max(strongest, Power(real, imaginary, l));
        for (int l = first; l <= end; l++)
        {
            double here = Power(real, imaginary, l);
            if (
                here < StrongFraction * StrongFraction * strongest
                || here < Power(real, imaginary, l - 1)
                || here < Power(real, imaginary, l + 1)
            )
                continue;
            int reach = (int)Math.Ceiling(0.6 * period);
            int found = Largest(real, sign, Math.Max(first, l - reach), Math.Min(end, l + reach));
            if (found >= 0)
                return found;
        }
        return -1;
    }

    /// <summary>Largest real value of a range.</summary>
    public static int Largest(ReadOnlySpan<double> real, double sign, int first, int end)
    {
        int best = -1;
        for (int l = Math.Max(first, 1); l <= Math.Min(end, real.Length - 2); l++)
        {
            if (sign * real[l] > 0 && (best < 0 || sign * real[l] > sign * real[best]))
                best = l;
        }
        return best;
    }

    /// <summary>Position between lags: cosine through three.</summary>
    public static double Refine(ReadOnlySpan<double> real, double sign, int lag) =>
        lag + SubSample.Cosine(sign * real[lag - 1], sign * real[lag], sign * real[lag + 1]);

    /// <summary>
    /// Slope of the positions of maxima at multiples of a spacing, anchored at lag 0, weights the heights: <c>sum h n t / sum h n^2</c>. A
    /// multiple counts when its maximum lies within 0.4 periods of where the ones before put it and keeps a third of the first's height.
    /// </summary>
    public static (double Spacing, int Last) Multiples(
        ReadOnlySpan<double> real,
        double sign,
        int firstLag,
        double limit,
        double period
    )
    {
        double spacing = Refine(real, sign, firstLag);
        double height = sign * real[firstLag];
        double cross = height * spacing;
        double weight = height;
        int last = 1;
        int reach = (int)Math.Ceiling(0.4 * period);
        for (int n = 2; (n + 0.2) * spacing < limit; n++)
        {
            int about = (int)Math.Round(n * spacing);
            int l = Largest(real, sign, about - reach, about + reach);
            if (l < 0 || sign * real[l] < height / 3 || Math.Abs(l - n * spacing) >= reach)
                break;
            double at = Refine(real, sign, l);
            double h = sign * real[l];
            cross += h * n * at;
            weight += h * n * n;
            spacing = cross / weight;
            last = n;
        }
        return (spacing, last);
    }

    private static double Power(ReadOnlySpan<double> real, ReadOnlySpan<double> imaginary, int l) =>
        real[l] * real[l] + imaginary[l] * imaginary[l];
}
