namespace EchoToThickness.Studies.Tune;

/// <summary>What one rule set made of some cells, as sums from which every figure of any union of cells follows.</summary>
public sealed class WindowScore
{
    private const double SmallestMetres = 1e-8;
    private const double BinRatio = 1.01;
    private const int Bins = 2000;

    /// <summary>Counts.</summary>
    internal long[] Counts { get; } = new long[(int)ScoreCount.End];

    /// <summary>Sums.</summary>
    internal double[] Sums { get; } = new double[(int)ScoreSum.End];

    /// <summary>Absolute errors by logarithmic bins of 1 %.</summary>
    internal SortedDictionary<int, int> Errors { get; } = [];

    internal long this[ScoreCount count] => Counts[(int)count];

    internal double this[ScoreSum sum] => Sums[(int)sum];

    /// <summary>Adds another score; the order of additions is the caller's, so that sums are the same on any number of threads.</summary>
    /// <param name="other">The other.</param>
    public void Add(WindowScore other)
    {
        ArgumentNullException.ThrowIfNull(other);
        for (int i = 0; i < Counts.Length; i++)
            Counts[i] += other.Counts[i];
        for (int i = 0; i < Sums.Length; i++)
            Sums[i] += other.Sums[i];
        foreach ((int bin, int count) in other.Errors)
            Errors[bin] = Errors.GetValueOrDefault(bin) + count;
    }

    /// <summary>Takes note of an absolute error.</summary>
    internal void NoteError(double metres)
    {
        int bin =
            metres <= SmallestMetres
                ? 0
                : Math.Min(Bins, 1 + (int)(Math.Log(metres / SmallestMetres) / Math.Log(BinRatio)));
        Errors[bin] = Errors.GetValueOrDefault(bin) + 1;
    }

    /// <summary>A figure of these cells; NaN where no cell can say.</summary>
    /// <param name="figure">The figure.</param>
    public double Of(TuneFigure figure) =>
        figure switch
        {
            TuneFigure.Gross => Part(ScoreCount.GrossThick, ScoreCount.GrossThin),
            TuneFigure.GrossThick => Part(ScoreCount.GrossThick),
            TuneFigure.Halved => Part(ScoreCount.Halved),
            TuneFigure.Doubled => Part(ScoreCount.Doubled),
            TuneFigure.Skipped => Part(ScoreCount.Skipped),
            TuneFigure.InterfaceLost => Part(ScoreCount.InterfaceLost),
            TuneFigure.Cycle => Part(ScoreCount.Cycle),
            TuneFigure.Missing => (double)(this[ScoreCount.Cells] - this[ScoreCount.Measured]) / this[ScoreCount.Cells],
            TuneFigure.Bias => Math.Abs(this[ScoreSum.ErrorSound] / this[ScoreCount.Sound]),
            TuneFigure.Rmse => Math.Sqrt(this[ScoreSum.SquareAll] / this[ScoreCount.Judged]),
            TuneFigure.RmseSound => Math.Sqrt(this[ScoreSum.SquareSound] / this[ScoreCount.Sound]),
            TuneFigure.P95 => Quantile(0.95),
            TuneFigure.PitsMissed => (double)this[ScoreCount.PitsMissed] / this[ScoreCount.Pits],
            TuneFigure.FlaggedWrongly => (double)this[ScoreCount.FlaggedWrongly] / this[ScoreCount.SoundMetal],
            TuneFigure.Calibration => Math.Abs(
                Math.Log(Math.Sqrt(this[ScoreSum.Standardised] / this[ScoreCount.Stated]))
            ),
            TuneFigure.Disagreement => (double)this[ScoreCount.Disagree] / this[ScoreCount.Both],
            TuneFigure.Jumps => (double)this[ScoreCount.Jumps] / this[ScoreCount.Neighbours],
            TuneFigure.Repeatability => (double)this[ScoreCount.RepeatsDiffer] / this[ScoreCount.Repeats],
            _ => double.NaN,
        };

    /// <summary>Quantile of the absolute error, within half a percent of its value.</summary>
    private double Quantile(double part)
    {
        long all = Errors.Values.Sum(c => (long)c);
        if (all == 0)
            return double.NaN;
        double wanted = part * all;
        double before = 0;
        foreach ((int bin, int count) in Errors)
        {
            if (before + count >= wanted)
                return bin == 0 ? 0 : SmallestMetres * Math.Pow(BinRatio, bin - 1 + (wanted - before) / count);
            before += count;
        }
        return double.NaN;
    }

    private double Part(params ReadOnlySpan<ScoreCount> counts)
    {
        long sum = 0;
        foreach (ScoreCount count in counts)
            sum += this[count];
        return (double)sum / this[ScoreCount.Cells];
    }

    /// <summary>Writes the score.</summary>
    internal void Write(BinaryWriter writer)
    {
        foreach (long count in Counts)
            writer.Write7BitEncodedInt64(count);
        foreach (double sum in Sums)
            writer.Write(sum);
        writer.Write7BitEncodedInt(Errors.Count);
        foreach ((int bin, int count) in Errors)
        {
            writer.Write7BitEncodedInt(bin);
            writer.Write7BitEncodedInt(count);
        }
    }

    /// <summary>Reads a score.</summary>
    internal static WindowScore Read(BinaryReader reader)
    {
        var score = new WindowScore();
        for (int i = 0; i < score.Counts.Length; i++)
            score.Counts[i] = reader.Read7BitEncodedInt64();
        for (int i = 0; i < score.Sums.Length; i++)
            score.Sums[i] = reader.ReadDouble();
        for (int left = reader.Read7BitEncodedInt(); left > 0; left--)
        {
            int bin = reader.Read7BitEncodedInt();
            score.Errors[bin] = reader.Read7BitEncodedInt();
        }
        return score;
    }
}
