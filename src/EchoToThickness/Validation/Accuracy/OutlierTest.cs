using EchoToThickness.Validation.Numerics;

namespace EchoToThickness.Validation.Accuracy;

/// <summary>Tests that flag values which do not fit a normal sample. They never remove anything.</summary>
public static class OutlierTest
{
    /// <summary>Two-sided test of the one value farthest from the mean (Grubbs, Technometrics 11, 1969).</summary>
    /// <param name="values">Independent values (cluster means), at least 3.</param>
    /// <param name="level">Size of the test.</param>
    public static OutlierResult Grubbs(ReadOnlySpan<double> values, double level = 0.05) =>
        GeneralisedDeviate(values, 1, level) with
        {
            Method = "Grubbs 1969, two-sided",
        };

    /// <summary>Generalised extreme studentised deviate: up to a number of outliers (Rosner, Technometrics 25, 1983).</summary>
    /// <param name="values">Independent values (cluster means), at least 3.</param>
    /// <param name="most">Largest number of outliers looked for, chosen before the data are seen; at most count - 2.</param>
    /// <param name="level">Size of the test.</param>
    /// <returns>Places of the flagged values, most extreme first. Rosner found the size right from about 25 values on.</returns>
    public static OutlierResult GeneralisedDeviate(ReadOnlySpan<double> values, int most, double level = 0.05)
    {
        const string method = "generalised extreme studentised deviate (Rosner 1983)";
        int n = values.Length;
        ArgumentOutOfRangeException.ThrowIfLessThan(most, 1);
        if (n < Math.Max(3, most + 2))
            return new(method, [], [], [], Refusal.Observations(n, Math.Max(3, most + 2), "values"));
        List<double> left = [.. values];
        List<int> place = Enumerable.Range(0, n).ToList();
        var statistics = new double[most];
        var critical = new double[most];
        var removed = new int[most];
        int flagged = 0;
        for (int k = 0; k < most; k++)
        {
            (double mean, double variance) = Bias.Moments(
                System.Runtime.InteropServices.CollectionsMarshal.AsSpan(left)
            );
            int farthest = 0;
            for (int i = 1; i < left.Count; i++)
                if (Math.Abs(left[i] - mean) > Math.Abs(left[farthest] - mean))
                    farthest = i;
            statistics[k] = variance > 0 ? Math.Abs(left[farthest] - mean) / Math.Sqrt(variance) : 0;
            int m = n - k;
            double t = Quantile.Student(1 - level / (2.0 * m), m - 2);
            critical[k] = (m - 1) * t / Math.Sqrt((m - 2 + t * t) * m);
            removed[k] = place[farthest];
            left.RemoveAt(farthest);
            place.RemoveAt(farthest);
            if (statistics[k] > critical[k])
                flagged = k + 1;
        }
        return new(method, removed[..flagged], statistics, critical, null);
    }

    /// <summary>Cochran's test of the largest of several variances of equal size (ISO 5725-2:2019, 7.3.3).</summary>
    /// <param name="variances">Variances.</param>
    /// <param name="repeats">Values behind each.</param>
    /// <param name="level">Size of the test.</param>
    /// <remarks>Critical value <c>1 / (1 + (g - 1) / F)</c> with F at level / g: Bonferroni's bound, which the tables of the standard follow.</remarks>
    public static OutlierResult Cochran(ReadOnlySpan<double> variances, int repeats, double level = 0.05)
    {
        const string method = "Cochran's largest variance (ISO 5725-2)";
        int g = variances.Length;
        if (g < 2 || repeats < 2)
            return new(method, [], [], [], Refusal.Observations(Math.Min(g, repeats), 2, "variances or repeats"));
        double sum = 0;
        int largest = 0;
        for (int i = 0; i < g; i++)
        {
            sum += variances[i];
            if (variances[i] > variances[largest])
                largest = i;
        }
        double statistic = sum > 0 ? variances[largest] / sum : 0;
        double f = Quantile.Fisher(1 - level / g, repeats - 1, (g - 1.0) * (repeats - 1));
        double critical = 1 / (1 + (g - 1) / f);
        return new(method, statistic > critical ? [largest] : [], [statistic], [critical], null);
    }
}
