// Coverage of nominal 95 % bounds on the smallest wall of 100 further blocks, from fields of known distribution and correlation.
// dotnet run -c Release --project tools/validation/extremes -- [fields a row = 200]
using System.Globalization;
using EchoToThickness.Statistics.Describe;
using EchoToThickness.Statistics.Extremes;
using EchoToThickness.Statistics.Spatial;

CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
int trials = args.Length > 0 ? int.Parse(args[0], CultureInfo.InvariantCulture) : 200;
const int cells = 16;
const double further = 100;
Console.WriteLine(
    "| field | correlation | noise | blocks | Gumbel plug-in | Gumbel predictive | penalised predictive | thinner of both | free shape plug-in | delta 95 % of the return level | profile |"
);
Console.WriteLine("|---|---|---|---|---|---|---|---|---|---|---|");
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
            LevelInterval delta = LevelIntervals.Delta(gumbel, Math.Exp(-1 / further));
            LevelInterval profile = LevelIntervals.Profile(sample, gumbel, Math.Exp(-1 / further));
            covered[trial] =
            [
                Below(plug),
                Below(predictive),
                Below(penalised),
                Below(Math.Max(predictive, penalised)),
                Below(free.Distribution.AtHazard(-Math.Log(0.95) / further)),
                delta.Lower <= level && level <= delta.Upper ? 1 : 0,
                profile.Lower <= level && level <= profile.Upper ? 1 : 0,
            ];
        }
    );
    string columns = string.Join(
        " | ",
        Enumerable.Range(0, 7).Select(c => covered.Average(v => v[c]).ToString("0.00"))
    );
    Console.WriteLine($"| {kind} | {(range == 0 ? "none" : $"{range} cells")} | {noise} | {side * side} | {columns} |");
}
