using EchoToThickness.Validation.Numerics;

namespace EchoToThickness.Validation.Detection;

/// <summary>False calls on metal without features.</summary>
public sealed record FalseCalls
{
    /// <summary>Rate per square metre with the exact Poisson interval (Garwood, Biometrika 28, 1936); refused when the units disagree.</summary>
    public required Estimate PoissonRate { get; init; }

    /// <summary>Rate per square metre as ratio of sums over units, Student's t: for units that disagree.</summary>
    public required Estimate RatioRate { get; init; }

    /// <summary>Share of units with a false call, exact binomial interval.</summary>
    public required Estimate UnitShare { get; init; }

    /// <summary>Probability of units disagreeing so much when calls fall at one rate (chi-squared of counts); NaN without calls or with one unit.</summary>
    public required double DispersionProbability { get; init; }

    /// <summary>Counts false calls.</summary>
    /// <param name="counts">False calls of each unit: a blank area in one scan.</param>
    /// <param name="areasSquareMetres">Blank area of each unit, above 0.</param>
    /// <param name="confidence">Two-sided confidence.</param>
    /// <param name="dispersionLevel">The exact interval is refused when the units disagree with a smaller probability.</param>
    public static FalseCalls Of(
        ReadOnlySpan<int> counts,
        ReadOnlySpan<double> areasSquareMetres,
        double confidence = 0.95,
        double dispersionLevel = 0.01
    )
    {
        if (counts.Length != areasSquareMetres.Length || counts.IsEmpty)
            throw new ArgumentException($"{counts.Length} counts, {areasSquareMetres.Length} areas.", nameof(counts));
        int units = counts.Length;
        long calls = 0;
        double area = 0;
        int touched = 0;
        for (int i = 0; i < units; i++)
        {
            ArgumentOutOfRangeException.ThrowIfNegative(counts[i]);
            if (!(areasSquareMetres[i] > 0))
                throw new ArgumentOutOfRangeException(
                    nameof(areasSquareMetres),
                    areasSquareMetres[i],
                    "Areas are above 0."
                );
            calls += counts[i];
            area += areasSquareMetres[i];
            touched += counts[i] > 0 ? 1 : 0;
        }
        double rate = calls / area;
        double dispersion = double.NaN;
        double residual = 0;
        if (units > 1 && calls > 0)
        {
            double statistic = 0;
            for (int i = 0; i < units; i++)
            {
                double off = counts[i] - rate * areasSquareMetres[i];
                statistic += off * off / (rate * areasSquareMetres[i]);
                residual += off * off;
            }
            dispersion = Quantile.ChiSquaredAbove(statistic, units - 1);
        }
        double tail = (1 - confidence) / 2;
        const string poisson = "exact Poisson (Garwood 1936)";
        var interval = new ConfidenceInterval(
            calls == 0 ? 0 : Quantile.ChiSquared(tail, 2.0 * calls) / (2 * area),
            Quantile.ChiSquared(1 - tail, 2.0 * calls + 2) / (2 * area),
            confidence
        );
        Estimate exact =
            dispersion < dispersionLevel
                ? Estimate.Refused(
                    poisson,
                    rate,
                    units,
                    (int)calls,
                    new Refusal(
                        RefusalReason.RepeatedLooks,
                        dispersion,
                        dispersionLevel,
                        "False calls crowd in some units: they are not independent. Use the ratio over units."
                    )
                )
                : new Estimate(poisson, rate, Math.Sqrt(calls) / area, interval, units, (int)calls, double.NaN);
        // var(ratio) = u / (u - 1) sum (c - r a)² / (sum a)² (Cochran, Sampling Techniques, 1977, 6.4).
        double error = units > 1 ? Math.Sqrt(units / (units - 1.0) * residual) / area : double.NaN;
        const string ratio = "ratio over units, Student's t";
        Estimate over =
            units < Accuracy.Bias.LeastClusters || calls == 0
                ? Estimate.Refused(
                    ratio,
                    rate,
                    units,
                    (int)calls,
                    units < Accuracy.Bias.LeastClusters
                        ? Refusal.Clusters(units, Accuracy.Bias.LeastClusters)
                        : Refusal.Observations(0, 1, "false calls")
                )
                : new Estimate(
                    ratio,
                    rate,
                    error,
                    new(
                        Math.Max(0, rate - Quantile.Student(1 - tail, units - 1) * error),
                        rate + Quantile.Student(1 - tail, units - 1) * error,
                        confidence
                    ),
                    units,
                    (int)calls,
                    units - 1
                );
        return new FalseCalls
        {
            PoissonRate = exact,
            RatioRate = over,
            DispersionProbability = dispersion,
            UnitShare = new Estimate(
                "exact binomial (Clopper and Pearson 1934)",
                touched / (double)units,
                double.NaN,
                Accuracy.BinomialInterval.ClopperPearson(touched, units, confidence),
                units,
                units,
                double.NaN
            ),
        };
    }
}
