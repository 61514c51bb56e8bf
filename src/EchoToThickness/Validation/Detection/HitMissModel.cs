using System.Globalization;
using EchoToThickness.Statistics;
using EchoToThickness.Statistics.Numerics;
using EchoToThickness.Validation.Numerics;

namespace EchoToThickness.Validation.Detection;

/// <summary>Probability of detection from hits and misses by size.</summary>
/// <remarks>
/// Maximum likelihood of <c>link(POD) = b0 + b1 x</c>, x the size or its logarithm (method of MIL-HDBK-1823A appendix G and ASTM E2862,
/// from memory). Several looks at a feature are not independent: the covariance is then the sandwich over features with the factor G / (G - 1)
/// (Liang and Zeger, Biometrika 73, 1986, independence working model), and no likelihood ratio is given.
/// </remarks>
public sealed class HitMissModel
{
    private readonly double[] _x;
    private readonly bool[] _hit;
    private readonly Factor _features;
    private readonly HitMissLikelihood _likelihood;
    private readonly double _centre;
    private readonly double _unit;
    private readonly double[,] _covariance;
    private readonly double _b0;
    private readonly double _b1;

    private HitMissModel(
        double[] x,
        bool[] hit,
        Factor features,
        HitMissSettings settings,
        HitMissLikelihood likelihood,
        (double Centre, double Unit) axis,
        (double B0, double B1, double Value) fit
    )
    {
        (_x, _hit, _features, Settings, _likelihood) = (x, hit, features, settings, likelihood);
        (_centre, _unit) = axis;
        (_b0, _b1, LogLikelihood) = fit;
        _covariance = Covariances();
        Slope = _b1 / _unit;
        Intercept = _b0 - Slope * _centre;
        SlopeError = Math.Sqrt(_covariance[1, 1]) / _unit;
        double m = _centre / _unit;
        InterceptError = Math.Sqrt(_covariance[0, 0] - 2 * m * _covariance[0, 1] + m * m * _covariance[1, 1]);
        InterceptSlopeCovariance = (_covariance[0, 1] - m * _covariance[1, 1]) / _unit;
        SlopeProbability = Quantile.ChiSquaredAbove(2 * (LogLikelihood - Flat()), 1);
    }

    /// <summary>Settings.</summary>
    public HitMissSettings Settings { get; }

    /// <summary>b0, at size 1 (logarithmic axis) or 0 (linear axis).</summary>
    public double Intercept { get; }

    /// <summary>b1.</summary>
    public double Slope { get; }

    /// <summary>Standard error of b0.</summary>
    public double InterceptError { get; }

    /// <summary>Standard error of b1.</summary>
    public double SlopeError { get; }

    /// <summary>Covariance of b0 and b1.</summary>
    public double InterceptSlopeCovariance { get; }

    /// <summary>Log-likelihood; with Firth's penalty the penalised one.</summary>
    public double LogLikelihood { get; }

    /// <summary>Minus twice the log-likelihood: the residual deviance of single looks.</summary>
    public double Deviance => -2 * LogLikelihood;

    /// <summary>Likelihood-ratio probability of such a slope when detection does not depend on size; for independent looks.</summary>
    public double SlopeProbability { get; }

    /// <summary>Looks.</summary>
    public int Looks => _x.Length;

    /// <summary>Features: the n of every statement.</summary>
    public int Features => _features.Levels.Count;

    /// <summary>Whether some feature was looked at more than once.</summary>
    public bool HasRepeatedLooks => Features < Looks;

    /// <summary>Fits a curve.</summary>
    /// <param name="sizes">Sizes, shape [look]; positive on the logarithmic axis.</param>
    /// <param name="hits">Whether each was found, shape [look].</param>
    /// <param name="features">Feature of each look; null when every look is at another feature.</param>
    /// <param name="settings">Settings; null for the defaults.</param>
    /// <param name="refusal">Why there is no curve; null when there is one.</param>
    /// <exception cref="StatisticsException">A size that the axis cannot show.</exception>
    public static HitMissModel? Fit(
        ReadOnlySpan<double> sizes,
        ReadOnlySpan<bool> hits,
        Factor? features,
        HitMissSettings? settings,
        out Refusal? refusal
    )
    {
        settings ??= new HitMissSettings();
        if (sizes.Length != hits.Length || (features != null && features.Count != sizes.Length))
            throw new ArgumentException($"{sizes.Length} sizes, {hits.Length} hits or misses.", nameof(hits));
        if (settings.IsPenalised && settings.Link != DetectionLink.Logit)
            throw new ArgumentException("Firth's penalty is for the logit only.", nameof(settings));
        int n = sizes.Length;
        if (n < 3)
        {
            refusal = Refusal.Observations(n, 3, "looks");
            return null;
        }
        double[] plain = SizeAxis.Of(sizes, settings.Scale);
        bool[] hit = hits.ToArray();
        refusal = Separated(plain, hit);
        if (refusal is { } found && (!settings.IsPenalised || found.Reason == RefusalReason.NoSpread))
            return null;
        double centre = plain.Average();
        double unit = Math.Sqrt(plain.Sum(v => (v - centre) * (v - centre)) / n);
        double[] x = plain.Select(v => (v - centre) / unit).ToArray();
        var likelihood = new HitMissLikelihood(x, hit, settings.Link, settings.IsPenalised);
        if (!likelihood.Maximise(out double b0, out double b1, out double value))
        {
            refusal = new Refusal(
                RefusalReason.NoConvergence,
                n,
                double.NaN,
                "The likelihood of hits and misses did not settle on a curve."
            );
            return null;
        }
        refusal = null;
        Factor owner =
            features
            ?? new Factor(
                "look",
                Enumerable.Range(0, n).Select(i => i.ToString(CultureInfo.InvariantCulture)).ToArray()
            );
        return new HitMissModel(x, hit, owner, settings, likelihood, (centre, unit), (b0, b1, value));
    }

    /// <summary>Probability of detection at a size.</summary>
    /// <param name="size">Size.</param>
    public double Probability(double size) => Inverse(_b0 + _b1 * Axis(size));

    /// <summary>Probability at a size with its pointwise two-sided band of confidence 2 c - 1, so that each edge is a one-sided limit of confidence c.</summary>
    /// <param name="size">Size.</param>
    public DetectionBand Band(double size)
    {
        double x = Axis(size);
        double eta = _b0 + _b1 * x;
        double z = NormalDistribution.Quantile(Settings.Confidence);
        double half = z * Math.Sqrt(Variance(x));
        double both = 2 * Settings.Confidence - 1;
        var wald = new ConfidenceInterval(Inverse(eta - half), Inverse(eta + half), both);
        if (HasRepeatedLooks)
            return new DetectionBand(size, Inverse(eta), wald, ConfidenceInterval.None);
        double crit = z * z;
        double Drop(double at) => 2 * (LogLikelihood - Through(x, at)) - crit;
        double low = Edge(Drop, eta, -Math.Max(half, 0.1));
        double high = Edge(Drop, eta, Math.Max(half, 0.1));
        return new DetectionBand(size, Inverse(eta), wald, new(Inverse(low), Inverse(high), both));
    }

    /// <summary>The size detected with a probability, with upper confidence limits; a90/95 is the limit at 0.9.</summary>
    /// <param name="probability">Probability, 0 to 1.</param>
    /// <remarks>Refused where features are fewer than <see cref="HitMissSettings.LeastFeatures"/>, the slope is not positive, or the band never reaches the probability.</remarks>
    public SizeLimit At(double probability)
    {
        double eta =
            Settings.Link == DetectionLink.Logit
                ? Math.Log(probability / (1 - probability))
                : NormalDistribution.Quantile(probability);
        double x = (eta - _b0) / _b1;
        double size = _b1 > 0 ? Size(x) : double.NaN;
        const string waldName = "Wald limit of the predictor";
        const string ratioName = "likelihood-ratio limit";
        Refusal? refusal = null;
        if (!(_b1 > 0))
            refusal = new Refusal(
                RefusalReason.SlopeNotPositive,
                Slope,
                0,
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"Detection falls with size (slope {Slope:G4}): there is no size from which it is reached."
                )
            );
        else if (Features < Settings.LeastFeatures)
            refusal = new Refusal(
                RefusalReason.TooFewFeatures,
                Features,
                Settings.LeastFeatures,
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{Features} features; a detection limit with confidence needs at least {Settings.LeastFeatures} hit/miss features."
                )
            );
        if (refusal != null)
            return new SizeLimit(probability, size, No(waldName, size, refusal), No(ratioName, size, refusal));
        double z = NormalDistribution.Quantile(Settings.Confidence);
        // (b0 + b1 x - eta)² = z² var(x), larger root: Fieller's theorem.
        double[,] v = _covariance;
        double a = _b1 * _b1 - z * z * v[1, 1];
        double b = 2 * (_b0 - eta) * _b1 - 2 * z * z * v[0, 1];
        double c = (_b0 - eta) * (_b0 - eta) - z * z * v[0, 0];
        double rootPart = b * b - 4 * a * c;
        var unbounded = new Refusal(
            RefusalReason.Unbounded,
            _b1 / Math.Sqrt(v[1, 1]),
            z,
            "The slope is not sure enough: the lower edge of the band never reaches the probability."
        );
        Estimate wald =
            a > 0 && rootPart >= 0
                ? Made(waldName, size, Size((-b + Math.Sqrt(rootPart)) / (2 * a)), Math.Sqrt(Variance(x)) / _b1)
                : No(waldName, size, unbounded);
        return new SizeLimit(probability, size, wald, Ratio(ratioName, eta, x, z, unbounded));
    }

    /// <summary>Upper limit of a size by resampling whole features (percentile bootstrap).</summary>
    /// <param name="probability">Probability of detection.</param>
    /// <param name="seed">Seed.</param>
    /// <param name="replicates">Resamples; 1000 or more for a limit of confidence 0.95.</param>
    /// <returns>Refused as <see cref="At"/> is, and where one in a hundred resamples or more has no curve.</returns>
    public Estimate Bootstrap(double probability, ulong seed, int replicates = 1000)
    {
        const string method = "percentile bootstrap of features";
        SizeLimit plain = At(probability);
        if (plain.Wald.Refusal is { Reason: not RefusalReason.Unbounded } refusal)
            return No(method, plain.Size, refusal);
        int g = Features;
        int[][] looks = Enumerable
            .Range(0, g)
            .Select(k => Enumerable.Range(0, Looks).Where(i => _features.Codes[i] == k).ToArray())
            .ToArray();
        var sizes = new List<double>();
        double eta =
            Settings.Link == DetectionLink.Logit
                ? Math.Log(probability / (1 - probability))
                : NormalDistribution.Quantile(probability);
        for (int r = 0; r < replicates; r++)
        {
            var random = new StatisticsRandom(seed, (ulong)r);
            int[] drawn = Enumerable.Range(0, g).SelectMany(_ => looks[random.Below(g)]).ToArray();
            double[] x = drawn.Select(i => _x[i]).ToArray();
            bool[] hit = drawn.Select(i => _hit[i]).ToArray();
            if (Separated(x, hit) != null && !Settings.IsPenalised)
                continue;
            var likelihood = new HitMissLikelihood(x, hit, Settings.Link, Settings.IsPenalised);
            if (likelihood.Maximise(out double b0, out double b1, out _) && b1 > 0)
                sizes.Add(Size((eta - b0) / b1));
        }
        int lost = replicates - sizes.Count;
        if (lost * 100 >= replicates)
            return No(
                method,
                plain.Size,
                new Refusal(
                    RefusalReason.NoConvergence,
                    lost,
                    replicates / 100.0,
                    string.Create(CultureInfo.InvariantCulture, $"{lost} of {replicates} resamples have no curve.")
                )
            );
        sizes.Sort();
        double upper = sizes[Math.Min(sizes.Count - 1, (int)Math.Ceiling(Settings.Confidence * (sizes.Count + 1)) - 1)];
        return Made(method, plain.Size, upper, double.NaN);
    }

    private Estimate Ratio(string name, double eta, double x, double z, Refusal unbounded)
    {
        double size = Size(x);
        if (HasRepeatedLooks)
            return No(
                name,
                size,
                new Refusal(
                    RefusalReason.RepeatedLooks,
                    Looks,
                    Features,
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"{Looks} looks at {Features} features are not independent; use the cluster-robust or the bootstrap limit."
                    )
                )
            );
        double Drop(double at) => 2 * (LogLikelihood - Through(at, eta)) - z * z;
        double step = Math.Max(z * Math.Sqrt(Variance(x)) / _b1, 0.05);
        double far = x + step;
        for (int k = 0; k < 30 && Drop(far) < 0; k++)
            far += step *= 1.6;
        double root = Drop(far) < 0 ? double.NaN : Roots.Between(Drop, x, far, 1e-12);
        // Far out the line through the point is flat and the drop tends to the test of the slope: it may never reach the limit.
        return double.IsFinite(root) && double.IsFinite(Size(root))
            ? Made(name, size, Size(root), double.NaN)
            : No(name, size, unbounded);
    }

    private Estimate Made(string method, double size, double upper, double error) =>
        new(
            method + (HasRepeatedLooks && method[0] == 'W' ? ", cluster-robust over features" : ""),
            size,
            error,
            new(double.NegativeInfinity, upper, Settings.Confidence),
            Features,
            Looks,
            double.NaN
        );

    private Estimate No(string method, double size, Refusal refusal) =>
        Estimate.Refused(method, size, Features, Looks, refusal);

    /// <summary>Far from the data the search starts from the line that meets the fit at their centre; with the fitted slope it would start where nothing is likely.</summary>
    private double Through(double x, double eta) =>
        _likelihood.Through(x, eta, Math.Abs(x) > 1 ? (eta - _b0) / x : _b1);

    private double Variance(double x) => _covariance[0, 0] + 2 * x * _covariance[0, 1] + x * x * _covariance[1, 1];

    private double Axis(double size) => (SizeAxis.Of(size, Settings.Scale) - _centre) / _unit;

    private double Size(double x) => SizeAxis.Back(_centre + _unit * x, Settings.Scale);

    private double Inverse(double eta) =>
        Settings.Link == DetectionLink.Logit ? 1 / (1 + Math.Exp(-eta)) : NormalDistribution.Below(eta);

    private double Flat()
    {
        // The best line without slope passes through the same height everywhere.
        double best = double.NegativeInfinity;
        double share = _hit.Count(h => h) / (double)_hit.Length;
        if (Settings.IsPenalised)
        {
            double eta = Roots.Minimum(e => -_likelihood.Value(e, 0), -20, 20, 1e-9);
            return _likelihood.Value(eta, 0);
        }
        if (share is > 0 and < 1)
            best = _likelihood.Value(
                Settings.Link == DetectionLink.Logit
                    ? Math.Log(share / (1 - share))
                    : NormalDistribution.Quantile(share),
                0
            );
        return best;
    }

    private double[,] Covariances()
    {
        double[,] bread =
            Curvature.Inverse(_likelihood.Information(_b0, _b1))
            ?? new double[,]
            {
                { double.NaN, double.NaN },
                { double.NaN, double.NaN },
            };
        int g = _features.Levels.Count;
        if (g == _x.Length)
            return bread;
        var sums = new (double A, double B)[g];
        for (int i = 0; i < _x.Length; i++)
        {
            (double a, double b) = _likelihood.Score(i, _b0, _b1);
            ref (double A, double B) sum = ref sums[_features.Codes[i]];
            sum = (sum.A + a, sum.B + b);
        }
        double factor = g / (g - 1.0);
        var meat = new double[2, 2];
        foreach ((double a, double b) in sums)
        {
            meat[0, 0] += factor * a * a;
            meat[0, 1] += factor * a * b;
            meat[1, 1] += factor * b * b;
        }
        meat[1, 0] = meat[0, 1];
        var covariance = new double[2, 2];
        for (int i = 0; i < 2; i++)
        for (int j = 0; j < 2; j++)
        for (int k = 0; k < 2; k++)
        for (int l = 0; l < 2; l++)
            covariance[i, j] += bread[i, k] * meat[k, l] * bread[l, j];
        return covariance;
    }

    /// <summary>For one covariate the likelihood has a maximum exactly when hits and misses overlap (Albert and Anderson, Biometrika 71, 1984).</summary>
    private static Refusal? Separated(double[] x, bool[] hit)
    {
        double[] found = x.Where((_, i) => hit[i]).ToArray();
        double[] missed = x.Where((_, i) => !hit[i]).ToArray();
        if (x.Max() == x.Min())
            return new Refusal(RefusalReason.NoSpread, 1, 2, "All features have one size; a curve needs several.");
        if (found.Length == 0 || missed.Length == 0)
            return new Refusal(
                RefusalReason.Separation,
                Math.Min(found.Length, missed.Length),
                1,
                found.Length == 0
                    ? "Nothing was found."
                    : "Nothing was missed: give the lower limit of the share found, or add smaller features."
            );
        bool apart = missed.Max() <= found.Min() || found.Max() <= missed.Min();
        return apart
            ? new Refusal(
                RefusalReason.Separation,
                0,
                1,
                "No size range holds both hits and misses: the curve is a step and its slope unknown. Add features between them, or use Firth's penalty."
            )
            : null;
    }

    private static double Edge(Func<double, double> drop, double centre, double step)
    {
        double far = centre + step;
        for (int k = 0; k < 60 && drop(far) < 0; k++)
            far += step *= 1.6;
        return Roots.Between(drop, centre, far, 1e-12);
    }
}
