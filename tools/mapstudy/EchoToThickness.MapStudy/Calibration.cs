using System.Globalization;
using System.Text;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Studies.Resampling;

namespace EchoToThickness.MapStudy;

/// <summary>Fits the weights of the stated chance of a wrong echo and checks them on maps that had no part in the fit.</summary>
internal static class Calibration
{
    private static readonly double[] Edges = [0, 1e-5, 3e-5, 1e-4, 3e-4, 1e-3, 3e-3, 1e-2, 3e-2, 0.1, 0.3, 1.01];

    /// <summary>Fits on training maps, writes the source file of the weights, and checks.</summary>
    /// <param name="file">Source file of the weights to write.</param>
    /// <param name="training">Stacks with truth, or planted maps as SCANS:SEED:SHARE.</param>
    public static void Fit(string file, IReadOnlyList<string> training)
    {
        var rows = new Dictionary<(MapChoice Choice, TrainExpectation Expect), double[]>();
        foreach (TrainExpectation expect in Enum.GetValues<TrainExpectation>())
        {
            var study = new SignStudy();
            foreach (string item in training)
                study.Add(item, expect);
            foreach (MapChoice choice in Enum.GetValues<MapChoice>())
            {
                rows[(choice, expect)] = LogisticFit.Fit(study.Of(choice));
                Console.WriteLine(
                    $"fitted {choice}, {expect}: {study.Of(choice).Count} cells, {study.Of(choice).Count(c => c.WrongEcho)} wrong"
                );
            }
        }
        string text = File.ReadAllText(file);
        var made = new StringBuilder(text[..text.IndexOf("    private static readonly", StringComparison.Ordinal)]);
        foreach (((MapChoice choice, TrainExpectation expect), double[] row) in rows.OrderBy(r => r.Key))
        {
            made.Append(
                CultureInfo.InvariantCulture,
                $"    private static readonly double[] {choice}{expect} =\n    [\n"
            );
            foreach (double weight in row)
                made.Append(CultureInfo.InvariantCulture, $"        {weight:G5},\n");
            made.Append("    ];\n\n");
        }
        File.WriteAllText(file, made.ToString().TrimEnd() + "\n}\n");
    }

    /// <summary>Prints stated against observed, per map and pooled, with today's weights.</summary>
    public static void Check(IReadOnlyList<string> items)
    {
        foreach (TrainExpectation expect in Enum.GetValues<TrainExpectation>())
        {
            var all = new SignStudy();
            foreach (string item in items)
            {
                var one = new SignStudy();
                one.Add(item, expect);
                foreach (MapChoice choice in Enum.GetValues<MapChoice>())
                {
                    all.Of(choice).AddRange(one.Of(choice));
                    Print($"{Path.GetFileNameWithoutExtension(item)}, {choice}, expect {expect}", one.Of(choice));
                }
            }
            foreach (MapChoice choice in Enum.GetValues<MapChoice>())
                Print($"ALL, {choice}, expect {expect}", all.Of(choice));
        }
    }

    private static void Print(string words, List<SignedCell> cells)
    {
        Console.WriteLine(
            $"\n## {words}: {cells.Count} cells, {cells.Count(c => c.WrongEcho)} wrong echoes, {cells.Count(c => c.Gross)} gross, {cells.Sum(c => c.Stated):0.0} stated"
        );
        Console.WriteLine(
            "| stated from | to | cells | wrong | mean stated | observed | 95 % | ratio |\n|---|---|---|---|---|---|---|---|"
        );
        for (int bin = 0; bin < Edges.Length - 1; bin++)
        {
            var part = cells.Where(c => c.Stated >= Edges[bin] && c.Stated < Edges[bin + 1]).ToList();
            if (part.Count < 400)
                continue;
            double mean = part.Average(c => c.Stated);
            int wrong = part.Count(c => c.WrongEcho);
            Interval interval = ExactBinomial.ClopperPearson(wrong, part.Count, 0.95);
            string verdict =
                wrong >= 0.5 * mean * part.Count && wrong <= 2 * mean * part.Count ? ""
                : interval.Low <= 2 * mean && interval.High >= 0.5 * mean ? " (open)"
                : " (off)";
            Console.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"| {Edges[bin]:0.#####} | {Edges[bin + 1]:0.#####} | {part.Count} | {wrong} | {mean:0.000000} | {(double)wrong / part.Count:0.000000} | {interval.Low:0.000000} to {interval.High:0.000000} | {wrong / (mean * part.Count):0.00}{verdict} |"
                )
            );
        }
    }
}
