using System.Globalization;
using EchoToThickness.Validation.Effects;
using EchoToThickness.Validation.Numerics;
using EchoToThickness.Validation.Variance;

namespace EchoToThickness.Validation.Accuracy;

/// <summary>Regression of measured on true values, and what it says of linearity.</summary>
public sealed record MeasuredOnTrue
{
    /// <summary>Measured value at the middle of the true values.</summary>
    public required Estimate Middle { get; init; }

    /// <summary>Measured value at a true value of 0: far outside the data as a rule.</summary>
    public required Estimate Intercept { get; init; }

    /// <summary>Slope: 1 where the scale is right.</summary>
    public required Estimate Slope { get; init; }

    /// <summary>Curvature of a parabola through the same data, per unit of truth squared: 0 where the response is linear. Null with fewer than three true values.</summary>
    public required Estimate? Curvature { get; init; }

    /// <summary>Standard deviation of readings about the line.</summary>
    public required double ResidualDeviation { get; init; }

    /// <summary>Joint test of intercept 0 and slope 1; clusters: on the robust covariance with clusters - 1 degrees of freedom (conservative).</summary>
    public required MeanSquare Identity { get; init; }

    /// <summary>Lack of fit of the line against the spread of cluster means of equal truth; null where no truth is repeated.</summary>
    public required MeanSquare? LackOfFit { get; init; }

    /// <summary>Largest |line - truth| over the range of truth, with a simultaneous band (Working and Hotelling) at that end.</summary>
    public required Estimate LargestDeparture { get; init; }

    /// <summary>Fits.</summary>
    /// <param name="observations">Readings with truth taken as exact; for uncertain truth see <see cref="ErrorsInVariables"/>.</param>
    /// <param name="refusal">Why there is no line; null when there is one.</param>
    /// <param name="confidence">Two-sided confidence of the intervals.</param>
    public static MeasuredOnTrue? Of(
        IReadOnlyList<Observation> observations,
        out Refusal? refusal,
        double confidence = 0.95
    )
    {
        ArgumentNullException.ThrowIfNull(observations);
        int n = observations.Count;
        double[] truth = observations.Select(o => o.Truth).ToArray();
        double[] value = observations.Select(o => o.Value).ToArray();
        var clusters = new Factor("cluster", observations.Select(o => o.Cluster).ToArray());
        Factor? robust = clusters.Levels.Count < n ? clusters : null;
        double middle = n > 0 ? truth.Average() : 0;
        double[] off = truth.Select(t => t - middle).ToArray();
        LinearModel? line = LinearModel.Fit(
            value,
            [LinearColumn.One(n), new("truth", off)],
            confidence,
            out refusal,
            robust
        );
        if (line == null)
            return null;
        LinearModel? raw = LinearModel.Fit(
            value,
            [LinearColumn.One(n), new("truth", truth)],
            confidence,
            out _,
            robust
        );
        LinearModel? bent = LinearModel.Fit(
            value,
            [LinearColumn.One(n), new("truth", off), new("truth squared", off.Select(t => t * t).ToArray())],
            confidence,
            out _,
            robust
        );
        int units = robust == null ? n : clusters.Levels.Count;
        double free = robust == null ? line.ResidualDegreesOfFreedom : units - 1;
        Estimate a = line.Coefficients[0];
        Estimate b = line.Coefficients[1];
        double va = line.Covariance[0][0];
        double vb = line.Covariance[1][1];
        double cab = line.Covariance[0][1];
        double da = a.Value - middle;
        double db = b.Value - 1;
        double det = va * vb - cab * cab;
        double f = (da * da * vb - 2 * da * db * cab + db * db * va) / det / 2;
        bool can = a.Refusal == null && det > 0;
        double ends = 0;
        foreach (double t in (double[])[off.Min(), off.Max()])
            if (Math.Abs(da + db * t) >= Math.Abs(da + db * ends))
                ends = t;
        double departure = da + db * ends;
        double error = Math.Sqrt(va + 2 * ends * cab + ends * ends * vb);
        string method = string.Create(
            CultureInfo.InvariantCulture,
            $"line minus truth at {ends + middle:G5}, simultaneous band (Working and Hotelling 1929)"
        );
        return new MeasuredOnTrue
        {
            Middle = a,
            Slope = b,
            Intercept =
                raw?.Coefficients[0]
                ?? Estimate.Refused(
                    a.Method,
                    a.Value - b.Value * middle,
                    units,
                    n,
                    new Refusal(
                        RefusalReason.NotIdentified,
                        double.NaN,
                        double.NaN,
                        "The true values are too close to each other to reach 0."
                    )
                ),
            Curvature = bent?.Coefficients[2],
            ResidualDeviation = line.ResidualDeviation,
            Identity = new MeanSquare(
                "intercept 0 and slope 1",
                2 * f,
                2,
                can ? f : double.NaN,
                can ? Quantile.FisherAbove(f, 2, free) : double.NaN
            ),
            LackOfFit = Lack(observations, clusters),
            LargestDeparture = can
                ? new Estimate(
                    method,
                    departure,
                    error,
                    ConfidenceInterval.About(
                        departure,
                        Math.Sqrt(2 * Quantile.Fisher(confidence, 2, free)) * error,
                        confidence
                    ),
                    units,
                    n,
                    free
                )
                : Estimate.Refused(
                    method,
                    departure,
                    units,
                    n,
                    a.Refusal
                        ?? new Refusal(
                            RefusalReason.NoSpread,
                            0,
                            double.NaN,
                            "The readings lie on a line exactly; their spread is unknown."
                        )
                ),
        };
    }

    /// <summary>On cluster means, unweighted: line against a mean for each true value.</summary>
    private static MeanSquare? Lack(IReadOnlyList<Observation> observations, Factor clusters)
    {
        int g = clusters.Levels.Count;
        var size = new double[g];
        var value = new double[g];
        var truth = new double[g];
        for (int i = 0; i < observations.Count; i++)
            size[clusters.Codes[i]]++;
        for (int i = 0; i < observations.Count; i++)
        {
            int k = clusters.Codes[i];
            value[k] += observations[i].Value / size[k];
            truth[k] = observations[i].Truth;
        }
        var levels = new Factor("truth", truth.Select(t => t.ToString("R", CultureInfo.InvariantCulture)).ToArray());
        int m = levels.Levels.Count;
        if (m < 3 || g <= m)
            return null;
        double middle = truth.Average();
        LinearModel? line = LinearModel.Fit(
            value,
            [LinearColumn.One(g), new("truth", truth.Select(t => t - middle).ToArray())],
            0.95,
            out _
        );
        var sums = new double[m];
        var counts = new double[m];
        for (int k = 0; k < g; k++)
        {
            sums[levels.Codes[k]] += value[k];
            counts[levels.Codes[k]]++;
        }
        double pure = 0;
        for (int k = 0; k < g; k++)
            pure += Math.Pow(value[k] - sums[levels.Codes[k]] / counts[levels.Codes[k]], 2);
        if (line == null || !(pure > 0))
            return null;
        double lack = Math.Max(0, line.ResidualSumOfSquares - pure);
        double f = lack / (m - 2) / (pure / (g - m));
        return new MeanSquare("lack of fit", lack, m - 2, f, Quantile.FisherAbove(f, m - 2, g - m));
    }
}
