using EchoToThickness.Statistics.Describe;

namespace EchoToThickness.Statistics.Assessment;

/// <summary>General metal loss, level 1, as far as public formulas go (API 579-1/ASME FFS-1 Part 4), and the thin-area figures of Part 5.</summary>
public static class ThicknessAveraging
{
    private const string Edition = "API 579-1/ASME FFS-1 (2016/2021)";

    private static readonly double[] Folias =
    [
        1.0010,
        -0.014195,
        0.29090,
        -0.096420,
        0.020890,
        -0.0030540,
        2.9570e-4,
        -1.8462e-5,
        7.1553e-7,
        -1.5631e-8,
        1.4656e-10,
    ];

    /// <summary>Parameter Q of the averaging length, capped at 50.</summary>
    /// <param name="remainingRatio">Remaining thickness ratio Rt.</param>
    /// <param name="allowableStrengthFactor">RSFa.</param>
    /// <remarks><c>1.123 sqrt(((1 - Rt) / (1 - Rt/RSFa))^2 - 1)</c> for Rt below RSFa, else 50. From memory.</remarks>
    public static double AveragingParameter(double remainingRatio, double allowableStrengthFactor = 0.9)
    {
        if (!(remainingRatio >= 0) || !(allowableStrengthFactor is > 0 and <= 1))
            throw new ArgumentOutOfRangeException(
                nameof(remainingRatio),
                remainingRatio,
                "Zero or more; RSFa up to 1."
            );
        if (remainingRatio >= allowableStrengthFactor)
            return 50;
        double share = (1 - remainingRatio) / (1 - remainingRatio / allowableStrengthFactor);
        return Math.Min(50, 1.123 * Math.Sqrt(share * share - 1));
    }

    /// <summary>Part 4, level 1, with a critical thickness profile: the mean over the averaging length against the required wall.</summary>
    /// <param name="input">Input.</param>
    /// <param name="positionsMetres">Shape [place], ascending.</param>
    /// <param name="wallsMetres">Shape [place]: smallest wall at each place (critical thickness profile).</param>
    /// <returns>Refused for components without a formula here, and where the smallest wall is below the structural limit.</returns>
    /// <remarks>
    /// The averaging window of length <c>L = Q sqrt(D tmin)</c> is laid where the mean is least; the profile is taken as straight between
    /// places. Where the profile is shorter than L, the whole of it is averaged.
    /// </remarks>
    public static AssessmentResult<AveragedWall> Level1(
        ThicknessAveragingInput input,
        IReadOnlyList<double> positionsMetres,
        IReadOnlyList<double> wallsMetres
    )
    {
        ArgumentNullException.ThrowIfNull(input);
        ArgumentNullException.ThrowIfNull(positionsMetres);
        ArgumentNullException.ThrowIfNull(wallsMetres);
        var basis = new AssessmentBasis(
            $"{Edition}, Part 4, level 1",
            "Rt = (tmm - FCA) / tmin; L = Q sqrt(D tmin); tam - FCA >= tmin, tmm - FCA >= max(0.5 tmin, 2.5 mm)",
            false,
            "Q and the limits are from memory; agreement with the official examples is not claimed"
        );
        if (input.Component is ComponentKind.Bend or ComponentKind.Other)
            return AssessmentResult<AveragedWall>.Refuse(
                basis,
                $"Level 1 covers cylinders and spheres under pressure alone, not {input.Component}."
            );
        if (positionsMetres.Count < 2 || positionsMetres.Count != wallsMetres.Count || wallsMetres.Any(double.IsNaN))
            throw new StatisticsException(
                FormattableString.Invariant($"{positionsMetres.Count} places and {wallsMetres.Count} walls, or a NaN."),
                "critical thickness profile",
                "give at least two measured places"
            );
        double least = wallsMetres.Min();
        double ratio = (least - input.FutureAllowanceMetres) / input.RequiredWallMetres;
        double q = ratio < 0 ? 0 : AveragingParameter(ratio, input.AllowableStrengthFactor);
        double length = q * Math.Sqrt(input.InsideDiameterMetres * input.RequiredWallMetres);
        double mean = LeastMean(positionsMetres, wallsMetres, length);
        double limit = Math.Max(0.5 * input.RequiredWallMetres, 2.5e-3);
        bool average = mean - input.FutureAllowanceMetres >= input.RequiredWallMetres;
        bool minimum = least - input.FutureAllowanceMetres >= limit;
        return AssessmentResult<AveragedWall>.Of(
            new AveragedWall(least, ratio, q, length, mean, average, minimum),
            basis
        );
    }

    /// <summary>Coefficient of variation of point readings; up to 10 % of at least 15 readings allow the point method (from memory).</summary>
    /// <param name="wallsMetres">Readings.</param>
    public static double CoefficientOfVariation(ReadOnlySpan<double> wallsMetres)
    {
        WeightedMoments moments = WeightedMoments.Of(wallsMetres);
        return moments.StandardDeviation / moments.Mean;
    }

    /// <summary>Folias factor of a cylinder, Part 5 Table 5.2: a polynomial of tenth degree, its argument capped at 20.</summary>
    /// <param name="lambda"><c>1.285 s / sqrt(D tc)</c>.</param>
    public static double CylinderFolias(double lambda)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(lambda);
        double x = Math.Min(lambda, 20);
        double sum = 0;
        for (int k = Folias.Length - 1; k >= 0; k--)
            sum = sum * x + Folias[k];
        return sum;
    }

    /// <summary>Folias factor of a sphere, Part 5 Table 5.2.</summary>
    /// <param name="lambda"><c>1.285 s / sqrt(D tc)</c>.</param>
    public static double SphereFolias(double lambda)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(lambda);
        double x = Math.Min(lambda, 20);
        return (1.0005 + 0.49001 * x + 0.32409 * x * x) / (1 + 0.50144 * x - 0.011067 * x * x);
    }

    /// <summary>Part 5 level 1: remaining strength factor of a local thin area, <c>Rt / (1 - (1 - Rt) / Mt)</c>.</summary>
    /// <param name="component">Straight pipe, cylindrical or spherical shell.</param>
    /// <param name="insideDiameterMetres">D.</param>
    /// <param name="futureWallMetres">Wall away from the area less future allowance, tc.</param>
    /// <param name="smallestWallMetres">Smallest wall less future allowance.</param>
    /// <param name="lengthMetres">Longitudinal length s of the area.</param>
    /// <param name="allowableStrengthFactor">RSFa.</param>
    public static AssessmentResult<StrengthFactor> LocalThinArea(
        ComponentKind component,
        double insideDiameterMetres,
        double futureWallMetres,
        double smallestWallMetres,
        double lengthMetres,
        double allowableStrengthFactor = 0.9
    )
    {
        var basis = new AssessmentBasis(
            $"{Edition}, Part 5, level 1",
            "RSF = Rt / (1 - (1 - Rt)/Mt), lambda = 1.285 s / sqrt(D tc), Mt of Table 5.2; reduced MAWP = MAWP RSF / RSFa",
            false,
            "Folias coefficients seen in several public sources, limits from memory"
        );
        if (component is ComponentKind.Bend or ComponentKind.Other)
            return AssessmentResult<StrengthFactor>.Refuse(
                basis,
                $"Level 1 covers cylinders and spheres under pressure alone, not {component}."
            );
        double ratio = smallestWallMetres / futureWallMetres;
        double lambda = 1.285 * lengthMetres / Math.Sqrt(insideDiameterMetres * futureWallMetres);
        // Limits of 5.4.2.2: Rt >= 0.20 and tmm - FCA >= 2.5 mm.
        if (!(ratio >= 0.2) || !(smallestWallMetres >= 2.5e-3))
            return AssessmentResult<StrengthFactor>.Refuse(
                basis,
                FormattableString.Invariant(
                    $"Rt = {ratio:0.00} is below 0.20, or the smallest wall of {smallestWallMetres * 1e3:0.0} mm below 2.5 mm."
                )
            );
        double folias = component == ComponentKind.SphericalShell ? SphereFolias(lambda) : CylinderFolias(lambda);
        double factor = ratio >= 1 ? 1 : ratio / (1 - (1 - ratio) / folias);
        return AssessmentResult<StrengthFactor>.Of(
            new StrengthFactor(ratio, lambda, folias, factor, Math.Min(1, factor / allowableStrengthFactor)),
            basis
        );
    }

    private static double LeastMean(IReadOnlyList<double> x, IReadOnlyList<double> t, double length)
    {
        int n = x.Count;
        var sums = new double[n];
        for (int k = 1; k < n; k++)
            sums[k] = sums[k - 1] + 0.5 * (t[k] + t[k - 1]) * (x[k] - x[k - 1]);
        double whole = x[n - 1] - x[0];
        if (length <= 0)
            return t.Min();
        if (length >= whole)
            return sums[n - 1] / whole;
        double Integral(double at)
        {
            int k = 1;
            int high = n - 1;
            while (k < high)
            {
                int middle = (k + high) / 2;
                if (x[middle] < at)
                    k = middle + 1;
                else
                    high = middle;
            }
            double part = (at - x[k - 1]) / (x[k] - x[k - 1]);
            double wall = t[k - 1] + part * (t[k] - t[k - 1]);
            return sums[k - 1] + 0.5 * (t[k - 1] + wall) * (at - x[k - 1]);
        }
        double least = double.PositiveInfinity;
        void Try(double start)
        {
            start = Math.Clamp(start, x[0], x[n - 1] - length);
            least = Math.Min(least, (Integral(start + length) - Integral(start)) / length);
        }
        // The mean is quadratic between places at which either end of the window meets a point: ends and middles of those stretches.
        double[] ends = x.Concat(x.Select(v => v - length))
            .Where(v => v >= x[0] && v <= x[n - 1] - length)
            .Order()
            .ToArray();
        Try(x[0]);
        Try(x[n - 1]);
        for (int k = 0; k < ends.Length; k++)
        {
            Try(ends[k]);
            if (k > 0)
                for (int part = 1; part < 8; part++)
                    Try(ends[k - 1] + part * (ends[k] - ends[k - 1]) / 8);
        }
        return least;
    }
}
