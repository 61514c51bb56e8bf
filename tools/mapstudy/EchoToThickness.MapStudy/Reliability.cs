using System.Globalization;

namespace EchoToThickness.MapStudy;

/// <summary>Stated against observed chance of a wrong wall.</summary>
internal static class Reliability
{
    private static readonly double[] Edges = [0, 1e-4, 3e-4, 1e-3, 3e-3, 1e-2, 3e-2, 0.1, 0.3, 1.01];

    /// <summary>Prints logarithmic bins.</summary>
    public static void Print(string words, IReadOnlyCollection<(double Stated, bool Wrong)> cells)
    {
        Console.WriteLine($"\n## stated and observed: {words}, {cells.Count} cells");
        Console.WriteLine(
            "| stated from | to | cells | wrong | mean stated | observed | ratio |\n|---|---|---|---|---|---|---|"
        );
        for (int bin = 0; bin < Edges.Length - 1; bin++)
        {
            var part = cells.Where(c => c.Stated >= Edges[bin] && c.Stated < Edges[bin + 1]).ToList();
            if (part.Count == 0)
                continue;
            double mean = part.Average(c => c.Stated);
            int wrong = part.Count(c => c.Wrong);
            Console.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"| {Edges[bin]:0.####} | {Edges[bin + 1]:0.####} | {part.Count} | {wrong} | {mean:0.00000} | {(double)wrong / part.Count:0.00000} | {wrong / (part.Count * mean):0.00} |"
                )
            );
        }
    }
}
