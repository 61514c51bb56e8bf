using System.Globalization;
using EchoToThickness.Procedures;

namespace EchoToThickness.EstimatorStudy;

/// <summary>What the study is asked for: <c>name=value</c> words of the command line.</summary>
internal sealed record StudyOptions
{
    public IReadOnlyList<double> WallsMillimetres { get; init; } = [2, 3, 4.5, 6, 8, 10, 12];

    public IReadOnlyList<double> DecibelsOfFirstWall { get; init; } = [0, 3, 6, 9, 12, 15, 20, 30, 40, 50];

    public IReadOnlyList<string> Methods { get; init; } = [];

    public int Records { get; init; } = 10_000;

    public double FrequencyHz { get; init; } = 7e6;

    public double BandwidthFraction { get; init; } = 0.6;

    public double SampleRateHz { get; init; } = 100e6;

    public int Samples { get; init; } = 1200;

    public double LossDecibels { get; init; } = 1.5;

    public double LowMillimetres { get; init; } = 1.3;

    public double HighMillimetres { get; init; } = 14;

    public EchoReference Reference { get; init; } = EchoReference.Interface;

    public int Threads { get; init; } = 2;

    public ulong Seed { get; init; } = 1;

    public static StudyOptions Parse(IEnumerable<string> words)
    {
        var options = new StudyOptions();
        foreach (string word in words)
        {
            int at = word.IndexOf('=', StringComparison.Ordinal);
            string name = at < 0 ? word : word[..at];
            string value = at < 0 ? "" : word[(at + 1)..];
            options = name switch
            {
                "walls" => options with { WallsMillimetres = Numbers(value) },
                "snr" => options with { DecibelsOfFirstWall = Numbers(value) },
                "methods" => options with { Methods = value.Split(',') },
                "records" => options with { Records = (int)Number(value) },
                "frequency" => options with { FrequencyHz = 1e6 * Number(value) },
                "bandwidth" => options with { BandwidthFraction = Number(value) },
                "rate" => options with { SampleRateHz = 1e6 * Number(value) },
                "samples" => options with { Samples = (int)Number(value) },
                "loss" => options with { LossDecibels = Number(value) },
                "low" => options with { LowMillimetres = Number(value) },
                "high" => options with { HighMillimetres = Number(value) },
                "threads" => options with { Threads = (int)Number(value) },
                "seed" => options with { Seed = (ulong)Number(value) },
                "reference" => options with { Reference = Enum.Parse<EchoReference>(value, ignoreCase: true) },
                _ => throw new ArgumentException(
                    $"Unknown word '{word}'. Known: walls= (mm) snr= (dB) methods= records= frequency= (MHz) bandwidth= rate= (MS/s) samples= loss= (dB) low= high= (mm) reference= threads= seed=."
                ),
            };
        }
        return options;
    }

    private static double Number(string text) => double.Parse(text, NumberStyles.Float, CultureInfo.InvariantCulture);

    private static double[] Numbers(string text) => text.Split(',').Select(Number).ToArray();
}
