using System.Numerics;

namespace EchoToThickness.Studies.Compare;

/// <summary>Sums over cells from which every figure but the percentile follows; a row of doubles, so that resamples are weighted sums of rows.</summary>
internal static class CellSums
{
    public const int Cells = 0;
    public const int Measured = 1;
    public const int Error = 2;
    public const int ErrorSquared = 3;
    public const int Sound = 4;
    public const int SoundSquared = 5;
    public const int Bounded = 6;
    public const int BoundedSquared = 7;
    public const int SoundBounded = 8;
    public const int SoundBoundedSquared = 9;
    public const int Gross = 10;
    public const int Thick = 11;
    public const int Doubled = 12;
    public const int Halved = 13;
    public const int Cycle = 14;
    public const int Uncertain = 15;
    public const int InNoise = 16;
    public const int InCombined = 17;
    public const int BoundSquared = 18;
    public const int BoundCells = 19;
    public const int LeftOut = 20;

    /// <summary>Doubles of a row, a multiple of every vector width.</summary>
    public const int Width = 24;

    public static void AddWeighted(ReadOnlySpan<double> row, double weight, Span<double> sum)
    {
        var w = new Vector<double>(weight);
        for (int i = 0; i < Width; i += Vector<double>.Count)
            (new Vector<double>(sum[i..]) + w * new Vector<double>(row[i..])).CopyTo(sum[i..]);
    }

    /// <summary>A figure from sums; NaN where it cannot be formed. P95 needs the errors themselves.</summary>
    public static double Figure(CompareFigure figure, ReadOnlySpan<double> s) =>
        figure switch
        {
            CompareFigure.Gross => s[Gross] / s[Cells],
            CompareFigure.GrossThick => s[Thick] / s[Cells],
            CompareFigure.Doubled => s[Doubled] / s[Cells],
            CompareFigure.Halved => s[Halved] / s[Cells],
            CompareFigure.Cycle => s[Cycle] / s[Cells],
            CompareFigure.Missing => (s[Cells] - s[Measured]) / s[Cells],
            CompareFigure.Bias => s[Error] / s[Measured],
            CompareFigure.Deviation => Deviation(s),
            CompareFigure.Rmse => Math.Sqrt(s[ErrorSquared] / s[Measured]),
            CompareFigure.RmseSound => Math.Sqrt(s[SoundSquared] / s[Sound]),
            CompareFigure.BoundRatio => Math.Sqrt(s[BoundedSquared] / s[Bounded]),
            CompareFigure.BoundRatioSound => Math.Sqrt(s[SoundBoundedSquared] / s[SoundBounded]),
            CompareFigure.NoiseCoverage => s[InNoise] / s[Uncertain],
            CompareFigure.Coverage => s[InCombined] / s[Uncertain],
            _ => double.NaN,
        };

    /// <summary>Events and trials of a rate.</summary>
    public static (long Events, long Trials) Counts(CompareFigure figure, ReadOnlySpan<double> s) =>
        figure switch
        {
            CompareFigure.Gross => ((long)s[Gross], (long)s[Cells]),
            CompareFigure.GrossThick => ((long)s[Thick], (long)s[Cells]),
            CompareFigure.Doubled => ((long)s[Doubled], (long)s[Cells]),
            CompareFigure.Halved => ((long)s[Halved], (long)s[Cells]),
            CompareFigure.Cycle => ((long)s[Cycle], (long)s[Cells]),
            CompareFigure.Missing => ((long)(s[Cells] - s[Measured]), (long)s[Cells]),
            CompareFigure.NoiseCoverage => ((long)s[InNoise], (long)s[Uncertain]),
            _ => ((long)s[InCombined], (long)s[Uncertain]),
        };

    private static double Deviation(ReadOnlySpan<double> s)
    {
        double n = s[Measured];
        double mean = s[Error] / n;
        return n < 2 ? double.NaN : Math.Sqrt(Math.Max(s[ErrorSquared] - n * mean * mean, 0) / (n - 1));
    }
}
