// Coverage of nominal 95 % bounds on the smallest wall of 100 further blocks, from fields of known distribution and correlation.
// One-sided bounds of the largest loss of those blocks, and one- and two-sided intervals of the level that is exceeded once in them, with and without
// measurement noise, and with the noise taken out by the likelihood.
// dotnet run -c Release --project tools/validation/extremes -- [fields a row = 1000]
using System.Globalization;
using EchoToThickness.Statistics.Describe;
using EchoToThickness.Statistics.Extremes;
using EchoToThickness.Statistics.Spatial;

CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
int trials = args.Length > 0 ? int.Parse(args[0], CultureInfo.InvariantCulture) : 1000;
const int cells = 16;
const double further = 100;
Console.WriteLine(
    "| field | correlation | noise | blocks | Gumbel plug-in | Gumbel predictive | penalised predictive | thinner of both | Gumbel, noise out | thinner, noise out | free shape plug-in | level: delta, two-sided | profile, two-sided | profile, one-sided | profile, two-sided, noise out | profile, one-sided, noise out |"
);
Console.WriteLine("|---|---|---|---|---|---|---|---|---|---|---|---|---|---|---|---|");
foreach (string kind in (string[])["normal", "exponential"])
foreach (double range in (double[])[0, 4])
foreach (double noise in (double[])[0, 0.5])
foreach (int side in (int[])[4, 7])
    Row(kind, range, noise, side);

void Row(string kind, double range, double noise, int side)
{
    var model =
        range == 0
            ? new VariogramModel(VariogramShape.Exponential, 1, 0, 1, 0)
            : new VariogramModel(VariogramShape.Gaussian, 0, 1, range, 0);
    var simulator = new FieldSimulator(side * cells, side * cells, 1, 1, model, model);
    // Truth from fields of their own: maxima of true losses of single blocks, without noise.
    double[] Maxima(int stream, double u, bool second)
    {
        (double[] first, double[] other) = simulator.Draw(11, stream);
        double[] field = second ? other : first;
        var random = new Random(stream * 2 + (second ? 1 : 0));
        var maxima = Enumerable.Repeat(double.NegativeInfinity, side * side).ToArray();
        for (int k = 0; k < field.Length; k++)
        {
            double loss =
                kind == "normal"
                    ? field[k]
                    : -Math.Log(Math.Max(1e-300, MapDescriber.ProbabilityBelow(0, 1, -field[k])));
            if (u > 0)
                loss +=
                    u * Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
            int block = k / (side * cells) / cells * side + k % (side * cells) / cells;
            maxima[block] = Math.Max(maxima[block], loss);
        }
        return maxima;
    }
    int pooled = Math.Max(60, 12000 / (side * side) / 2);
    var pools = new double[2 * pooled][];
    Parallel.For(
        0,
        pooled,
        k =>
        {
            pools[2 * k] = Maxima(100_000 + k, 0, false);
            pools[2 * k + 1] = Maxima(100_000 + k, 0, true);
        }
    );
    double[] truth = pools.SelectMany(p => p).Order().ToArray();
    double Below(double bound)
    {
        int place = Array.BinarySearch(truth, bound);
        return Math.Pow((place < 0 ? ~place : place) / (double)truth.Length, further);
    }
    // Level exceeded once in 100 blocks on average.
    double level = truth[(int)(truth.Length * Math.Exp(-1 / further))];
    double Inside(LevelInterval interval) => interval.Lower <= level && level <= interval.Upper ? 1 : 0;
    var covered = new double[trials][];
    Parallel.For(
        0,
        trials,
        trial =>
        {
            var sample = new BlockSample(Maxima(trial, noise, false));
            ExtremeFit gumbel = GevFitter.MaximumLikelihood(sample, ShapeRule.Gumbel);
            ExtremeFit drawn = GevFitter.MaximumLikelihood(sample, ShapeRule.Penalised, false);
            ExtremeFit free = GevFitter.MaximumLikelihood(sample, ShapeRule.Free, false);
            double plug = gumbel.Distribution.AtHazard(-Math.Log(0.95) / further);
            double predictive = LevelIntervals.PredictiveUpper(
                LevelIntervals.Replicates(sample, gumbel, 100, 3),
                further,
                0.95
            );
            double penalised = LevelIntervals.PredictiveUpper(
                LevelIntervals.Replicates(sample, drawn, 60, 4),
                further,
                0.95
            );
            double gumbelOut = predictive;
            double thinnerOut = Math.Max(predictive, penalised);
            LevelInterval? profileOut = null;
            LevelInterval? oneOut = null;
            double at = Math.Exp(-1 / further);
            // A one-sided 95 % bound is the end of a two-sided 90 % interval.
            LevelInterval one = LevelIntervals.Profile(sample, gumbel, at, 0.9);
            if (noise > 0)
            {
                var noisy = new BlockSample(sample.Values, default, default, noise);
                ExtremeFit gumbelFit = GevFitter.MaximumLikelihood(noisy, ShapeRule.Gumbel);
                ExtremeFit drawnFit = GevFitter.MaximumLikelihood(noisy, ShapeRule.Penalised, false);
                double Predictive(ExtremeFit fit, int count) =>
                    LevelIntervals.PredictiveUpper(LevelIntervals.Replicates(noisy, fit, count, 5), further, 0.95);
                gumbelOut = Predictive(gumbelFit, 100);
                thinnerOut = Math.Max(gumbelOut, Predictive(drawnFit, 20));
                profileOut = LevelIntervals.Profile(noisy, gumbelFit, at);
                oneOut = LevelIntervals.Profile(noisy, gumbelFit, at, 0.9);
            }
            LevelInterval delta = LevelIntervals.Delta(gumbel, Math.Exp(-1 / further));
            LevelInterval profile = LevelIntervals.Profile(sample, gumbel, Math.Exp(-1 / further));
            covered[trial] =
            [
                Below(plug),
                Below(predictive),
                Below(penalised),
                Below(Math.Max(predictive, penalised)),
                Below(gumbelOut),
                Below(thinnerOut),
                Below(free.Distribution.AtHazard(-Math.Log(0.95) / further)),
                Inside(delta),
                Inside(profile),
                level <= one.Upper ? 1 : 0,
                Inside(profileOut ?? profile),
                level <= (oneOut ?? one).Upper ? 1 : 0,
            ];
        }
    );
    string Column(int c) => noise == 0 && c is 4 or 5 or 10 or 11 ? "-" : covered.Average(v => v[c]).ToString("0.000");
    string columns = string.Join(" | ", Enumerable.Range(0, 12).Select(Column));
    Console.WriteLine($"| {kind} | {(range == 0 ? "none" : $"{range} cells")} | {noise} | {side * side} | {columns} |");
}
