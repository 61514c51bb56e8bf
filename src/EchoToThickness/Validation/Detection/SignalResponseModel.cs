using System.Globalization;
using EchoToThickness.Statistics;
using EchoToThickness.Statistics.Numerics;
using EchoToThickness.Validation.Numerics;
using MathNet.Numerics.LinearAlgebra;

namespace EchoToThickness.Validation.Detection;

/// <summary>Probability of detection from the size of the signal: censored regression of signal on size.</summary>
/// <remarks>
/// <c>signal = b0 + b1 x + e</c> on the axes chosen, e normal with deviation s; <c>POD = Phi((b0 + b1 x - level) / s)</c> (method of MIL-HDBK-1823A
/// appendix G and ASTM E3023, from memory). Covariance from observed information in (b0, b1, ln s), or the sandwich over features where
/// features were looked at more than once. Limits by the delta method on the axis of the size, and by the likelihood ratio.
/// </remarks>
public sealed class SignalResponseModel
{
    private readonly CensoredLikelihood _likelihood;
    private readonly Matrix<double> _covariance;
    private readonly double _level;
    private readonly double[] _point;
    private readonly double[] _sizes;

    private SignalResponseModel(
        CensoredLikelihood likelihood,
        SignalResponseSettings settings,
        double[] point,
        double value,
        Factor features,
        int left,
        int right,
        double[] sizes
    )
    {
        _likelihood = likelihood;
        _point = point;
        _sizes = sizes;
        Settings = settings;
        LogLikelihood = value;
        Features = features.Levels.Count;
        Looks = features.Count;
        CensoredBelow = left;
        CensoredAbove = right;
        Deviation = 1 / point[2];
        Intercept = point[0] / point[2];
        Slope = point[1] / point[2];
        _level = SizeAxis.Of(settings.DecisionLevel, settings.SignalScale);
        var information = Matrix<double>.Build.Dense(3, 3);
        var g = Features;
        var scores = Matrix<double>.Build.Dense(g, 3);
        _likelihood.Evaluate(
            point,
            Vector<double>.Build.Dense(3),
            information,
            (i, a, b, c) =>
            {
                int k = features.Codes[i];
                scores[k, 0] += a;
                scores[k, 1] += b;
                scores[k, 2] += c;
            }
        );
        Matrix<double> inverse = information.Inverse();
        if (HasRepeatedLooks)
            inverse = inverse * scores.TransposeThisAndMultiply(scores) * inverse * (g / (g - 1.0));
        // b0 = d0 / h, b1 = d1 / h, ln s = -ln h.
        double h = point[2];
        Matrix<double> jacobian = Matrix<double>.Build.DenseOfArray(
            new[,]
            {
                { 1 / h, 0, -point[0] / (h * h) },
                { 0, 1 / h, -point[1] / (h * h) },
                { 0, 0, -1 / h },
            }
        );
        _covariance = jacobian * inverse * jacobian.Transpose();
    }

    /// <summary>Settings.</summary>
    public SignalResponseSettings Settings { get; }

    /// <summary>b0.</summary>
    public double Intercept { get; }

    /// <summary>b1.</summary>
    public double Slope { get; }

    /// <summary>s, maximum likelihood.</summary>
    public double Deviation { get; }

    /// <summary>Log-likelihood on the axis of the signal.</summary>
    public double LogLikelihood { get; }

    /// <summary>Looks.</summary>
    public int Looks { get; }

    /// <summary>Features: the n of every statement.</summary>
    public int Features { get; }

    /// <summary>Looks whose signal is known only to be below the left limit.</summary>
    public int CensoredBelow { get; }

    /// <summary>Looks whose signal is known only to be above the right limit.</summary>
    public int CensoredAbove { get; }

    /// <summary>Whether some feature was looked at more than once.</summary>
    public bool HasRepeatedLooks => Features < Looks;

    /// <summary>Covariance of (b0, b1, ln s).</summary>
    public IReadOnlyList<IReadOnlyList<double>> Covariance => _covariance.ToRowArrays();

    /// <summary>Fits a model.</summary>
    /// <param name="sizes">Sizes, shape [look].</param>
    /// <param name="signals">Signals, shape [look].</param>
    /// <param name="features">Feature of each look; null when every look is at another feature.</param>
    /// <param name="settings">Settings.</param>
    /// <param name="refusal">Why there is no model; null when there is one.</param>
    /// <exception cref="StatisticsException">A value that its axis cannot show.</exception>
    public static SignalResponseModel? Fit(
        ReadOnlySpan<double> sizes,
        ReadOnlySpan<double> signals,
        Factor? features,
        SignalResponseSettings settings,
        out Refusal? refusal
    )
    {
        ArgumentNullException.ThrowIfNull(settings);
        if (sizes.Length != signals.Length || (features != null && features.Count != sizes.Length))
            throw new ArgumentException($"{sizes.Length} sizes, {signals.Length} signals.", nameof(signals));
        int n = sizes.Length;
        double[] x = SizeAxis.Of(sizes, settings.SizeScale);
        var clamped = new double[n];
        var censor = new int[n];
        for (int i = 0; i < n; i++)
        {
            censor[i] =
                signals[i] <= settings.LeftLimit ? -1
                : signals[i] >= settings.RightLimit ? 1
                : 0;
            clamped[i] =
                censor[i] < 0 ? settings.LeftLimit
                : censor[i] > 0 ? settings.RightLimit
                : signals[i];
        }
        double[] y = SizeAxis.Of(clamped, settings.SignalScale);
        int seen = censor.Count(c => c == 0);
        if (seen < 3)
        {
            refusal = Refusal.Observations(seen, 3, "signals within the limits");
            return null;
        }
        double[] seenX = x.Where((_, i) => censor[i] == 0).ToArray();
        if (seenX.Max() == seenX.Min())
        {
            refusal = new Refusal(RefusalReason.NoSpread, 1, 2, "All signals within the limits belong to one size.");
            return null;
        }
        // Start from least squares of all values; columns centred and scaled for the solution.
        double centre = x.Average();
        double unit = Math.Sqrt(x.Sum(v => (v - centre) * (v - centre)) / n);
        double[] scaled = x.Select(v => (v - centre) / unit).ToArray();
        double mean = y.Average();
        double slope = 0;
        for (int i = 0; i < n; i++)
            slope += scaled[i] * (y[i] - mean) / n;
        double spread = Math.Sqrt(Enumerable.Range(0, n).Average(i => Math.Pow(y[i] - mean - slope * scaled[i], 2)));
        if (!(spread > 1e-12 * (Math.Abs(mean) + Math.Abs(slope))))
        {
            refusal = new Refusal(
                RefusalReason.NoSpread,
                spread,
                double.NaN,
                "The signals lie on a line exactly; their spread is unknown."
            );
            return null;
        }
        var solver = new CensoredLikelihood(scaled, y, censor);
        (double[] q, _, bool settled) = solver.Maximise(
            [mean / spread, slope / spread, 1 / spread],
            Matrix<double>.Build.DenseIdentity(3)
        );
        if (!settled)
        {
            refusal = new Refusal(
                RefusalReason.NoConvergence,
                n,
                double.NaN,
                "The censored regression did not settle."
            );
            return null;
        }
        double[] point = [q[0] - q[1] * centre / unit, q[1] / unit, q[2]];
        var likelihood = new CensoredLikelihood(x, y, censor);
        refusal = null;
        Factor owner =
            features
            ?? new Factor(
                "look",
                Enumerable.Range(0, n).Select(i => i.ToString(CultureInfo.InvariantCulture)).ToArray()
            );
        return new SignalResponseModel(
            likelihood,
            settings,
            point,
            likelihood.Evaluate(point, null, null),
            owner,
            censor.Count(c => c < 0),
            censor.Count(c => c > 0),
            sizes.ToArray()
        );
    }

    /// <summary>Probability of detection at a size.</summary>
    /// <param name="size">Size.</param>
    public double Probability(double size) =>
        NormalDistribution.Below((Intercept + Slope * SizeAxis.Of(size, Settings.SizeScale) - _level) / Deviation);

    /// <summary>Probability at a size with its pointwise two-sided band of confidence 2 c - 1 (delta method on the predictor; likelihood ratio).</summary>
    /// <param name="size">Size.</param>
    public DetectionBand Band(double size)
    {
        double x = SizeAxis.Of(size, Settings.SizeScale);
        double u = (Intercept + Slope * x - _level) / Deviation;
        double z = NormalDistribution.Quantile(Settings.Confidence);
        double half = z * Error([1 / Deviation, x / Deviation, -u]);
        double both = 2 * Settings.Confidence - 1;
        var wald = new ConfidenceInterval(NormalDistribution.Below(u - half), NormalDistribution.Below(u + half), both);
        if (HasRepeatedLooks)
            return new DetectionBand(size, NormalDistribution.Below(u), wald, ConfidenceInterval.None);
        double Drop(double at) => 2 * (LogLikelihood - Through(x, at)) - z * z;
        double low = Edge(Drop, u, -half);
        double high = Edge(Drop, u, half);
        var ratio = new ConfidenceInterval(NormalDistribution.Below(low), NormalDistribution.Below(high), both);
        return new DetectionBand(size, NormalDistribution.Below(u), wald, ratio);
    }

    /// <summary>The size detected with a probability, with upper confidence limits; a90/95 is the limit at 0.9.</summary>
    /// <param name="probability">Probability, 0 to 1.</param>
    public SizeLimit At(double probability)
    {
        double u = NormalDistribution.Quantile(probability);
        double x = (_level + u * Deviation - Intercept) / Slope;
        double size = Slope > 0 ? SizeAxis.Back(x, Settings.SizeScale) : double.NaN;
        const string waldName = "delta-method limit";
        const string ratioName = "likelihood-ratio limit";
        Refusal? refusal = null;
        if (!(Slope > 0))
            refusal = new Refusal(
                RefusalReason.SlopeNotPositive,
                Slope,
                0,
                string.Create(CultureInfo.InvariantCulture, $"The signal falls with size (slope {Slope:G4}).")
            );
        else if (Features < Settings.LeastFeatures)
            refusal = new Refusal(
                RefusalReason.TooFewFeatures,
                Features,
                Settings.LeastFeatures,
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{Features} features; a detection limit with confidence needs at least {Settings.LeastFeatures} signal-response features."
                )
            );
        Estimate No(string name, Refusal why) => Estimate.Refused(name, size, Features, Looks, why);
        Estimate Made(string name, double upper, double error) =>
            new(
                name,
                size,
                error,
                new(double.NegativeInfinity, upper, Settings.Confidence),
                Features,
                Looks,
                double.NaN
            );
        if (refusal != null)
            return new SizeLimit(probability, size, No(waldName, refusal), No(ratioName, refusal));
        double z = NormalDistribution.Quantile(Settings.Confidence);
        double error = Error([-1 / Slope, -x / Slope, u * Deviation / Slope]);
        Estimate wald = Made(
            waldName + (HasRepeatedLooks ? ", cluster-robust over features" : ""),
            SizeAxis.Back(x + z * error, Settings.SizeScale),
            error
        );
        if (HasRepeatedLooks)
            return new SizeLimit(
                probability,
                size,
                wald,
                No(
                    ratioName,
                    new Refusal(
                        RefusalReason.RepeatedLooks,
                        Looks,
                        Features,
                        string.Create(
                            CultureInfo.InvariantCulture,
                            $"{Looks} looks at {Features} features are not independent; use the cluster-robust limit."
                        )
                    )
                )
            );
        double Drop(double at) => 2 * (LogLikelihood - Through(at, u)) - z * z;
        double edge = Edge(Drop, x, z * error);
        Estimate ratio = double.IsFinite(edge)
            ? Made(ratioName, SizeAxis.Back(edge, Settings.SizeScale), double.NaN)
            : No(
                ratioName,
                new Refusal(RefusalReason.Unbounded, Slope, double.NaN, "The band never reaches the probability.")
            );
        return new SizeLimit(probability, size, wald, ratio);
    }

    /// <summary>
    /// Upper limit of a size calibrated by the fitted model itself (parametric bootstrap of the studentised size, Davison and Hinkley 1997,
    /// 5.2): signals are drawn anew at the same sizes with the same limits, and the delta method is corrected by what it then misses.
    /// </summary>
    /// <param name="probability">Probability of detection.</param>
    /// <param name="seed">Seed.</param>
    /// <param name="replicates">Simulated studies.</param>
    /// <returns>Refused as <see cref="At"/> is, for repeated looks, and where more than one study in a hundred has no model.</returns>
    public Estimate Calibrated(double probability, ulong seed, int replicates = 499)
    {
        const string method = "delta-method limit calibrated by parametric bootstrap";
        SizeLimit plain = At(probability);
        Refusal? refusal = plain.Wald.Refusal ?? plain.LikelihoodRatio.Refusal;
        if (refusal is { Reason: not RefusalReason.Unbounded })
            return Estimate.Refused(method, plain.Size, Features, Looks, refusal);
        double centre = SizeAxis.Of(plain.Size, Settings.SizeScale);
        var missed = new List<double>();
        var signals = new double[Looks];
        for (int r = 0; r < replicates; r++)
        {
            var random = new StatisticsRandom(seed, (ulong)r);
            for (int i = 0; i < Looks; i++)
                signals[i] = SizeAxis.Back(
                    Intercept + Slope * SizeAxis.Of(_sizes[i], Settings.SizeScale) + Deviation * random.Normal(),
                    Settings.SignalScale
                );
            SizeLimit? drawn = Fit(_sizes, signals, null, Settings, out _)?.At(probability);
            if (drawn?.Wald is { Refusal: null } made)
                missed.Add((SizeAxis.Of(drawn.Size, Settings.SizeScale) - centre) / made.StandardError);
        }
        int lost = replicates - missed.Count;
        if (lost * 100 > replicates)
            return Estimate.Refused(
                method,
                plain.Size,
                Features,
                Looks,
                new Refusal(
                    RefusalReason.NoConvergence,
                    lost,
                    replicates / 100.0,
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"{lost} of {replicates} simulated studies have no model."
                    )
                )
            );
        missed.Sort();
        double low = missed[Math.Max(0, (int)Math.Floor((1 - Settings.Confidence) * (missed.Count + 1)) - 1)];
        return new Estimate(
            method,
            plain.Size,
            plain.Wald.StandardError,
            new(
                double.NegativeInfinity,
                SizeAxis.Back(centre - low * plain.Wald.StandardError, Settings.SizeScale),
                Settings.Confidence
            ),
            Features,
            Looks,
            double.NaN
        );
    }

    /// <summary>Greatest likelihood given that the predictor is u at x: d0 + d1 x - h level = u is linear, so the problem stays concave.</summary>
    private double Through(double x, double u)
    {
        // Start at the maximum, moved onto the plane through d0; directions within the plane are (-x, 1, 0) and (level, 0, 1).
        double d0 = u + _level * _point[2] - _point[1] * x;
        Matrix<double> free = Matrix<double>.Build.DenseOfArray(
            new[,]
            {
                { -x, _level },
                { 1, 0 },
                { 0, 1 },
            }
        );
        return _likelihood.Maximise([d0, _point[1], _point[2]], free).Value;
    }

    private static double Edge(Func<double, double> drop, double centre, double step)
    {
        double far = centre + step;
        for (int k = 0; k < 40 && drop(far) < 0; k++)
            far += step *= 1.6;
        return Roots.Between(drop, centre, far, 1e-11);
    }

    private double Error(double[] gradient)
    {
        Vector<double> g = Vector<double>.Build.DenseOfArray(gradient);
        return Math.Sqrt(g * (_covariance * g));
    }
}
