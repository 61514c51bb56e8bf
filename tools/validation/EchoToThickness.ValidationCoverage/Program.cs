using System.Globalization;
using EchoToThickness.Validation;
using EchoToThickness.Validation.Accuracy;
using EchoToThickness.ValidationCoverage;

// Prints the table of docs/theory/validation-statistics.md: dotnet run -c Release --project tools/validation/EchoToThickness.ValidationCoverage -- [trials] [seed] [part of a name]
int trials = args.Length > 0 ? int.Parse(args[0], CultureInfo.InvariantCulture) : 10_000;
int seed = args.Length > 1 ? int.Parse(args[1], CultureInfo.InvariantCulture) : 1;
string part = args.Length > 2 ? args[2] : "";
Console.WriteLine("| method and design | stated | found | 99 % interval of what was found | trials |");
Console.WriteLine("|---|---|---|---|---|");
foreach (
    (CoverageCase test, int count) in CoverageCases
        .All.Select(c => (c, trials))
        .Concat(CoverageCases.Slow.Select(c => (c, trials / 10)))
)
{
    if (!test.Name.Contains(part, StringComparison.Ordinal))
        continue;
    (int events, int made) = test.Run(count, seed);
    ConfidenceInterval interval = BinomialInterval.ClopperPearson(events, made, 0.99);
    Console.WriteLine(
        string.Create(
            CultureInfo.InvariantCulture,
            $"| {test.Name} | {test.Nominal:0.00} | {events / (double)made:0.0000} | {interval.Low:0.0000} to {interval.High:0.0000} | {made} |"
        )
    );
}
