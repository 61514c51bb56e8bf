using EchoToThickness.Pairing;

namespace EchoToThickness.Studies;

/// <summary>
/// A grid against the truth of its stack. Missing and gross are never pooled: a refusal costs a cell, a guess costs a decision, and
/// reading thick is the dangerous side. Metres and fractions; NaN where nothing was measured.
/// </summary>
public sealed record AccuracyScore
{
    /// <summary>Cells with an A-scan and a known truth.</summary>
    public required long Cells { get; init; }

    /// <summary>Cells left out because no A-scan was stored or the truth is not known.</summary>
    public required long LeftOut { get; init; }

    /// <summary>Cells with a thickness.</summary>
    public required long Measured { get; init; }

    /// <summary>Cells without one: refused, whatever the reason.</summary>
    public long Missing => Cells - Measured;

    /// <summary>Measured cells that are grossly too thick.</summary>
    public required long GrossThick { get; init; }

    /// <summary>Measured cells that are grossly too thin.</summary>
    public required long GrossThin { get; init; }

    /// <summary>Both.</summary>
    public long Gross => GrossThick + GrossThin;

    /// <summary>Measured cells off by more than an eighth of a wavelength; gross cells are among them.</summary>
    public required long Cycle { get; init; }

    /// <summary>Measured cells that read more than the gross limit above the smallest wall under the aperture; 0 when that is not known.</summary>
    public required long ThickOverMinimum { get; init; }

    /// <summary>Mean error of all measured cells.</summary>
    public required double BiasMetres { get; init; }

    /// <summary>Root mean square error of all measured cells.</summary>
    public required double RmseMetres { get; init; }

    /// <summary>95th percentile of the absolute error of all measured cells (linear between order statistics).</summary>
    public required double P95Metres { get; init; }

    /// <summary>Median error of the measured cells that are not gross.</summary>
    public required double MedianSoundMetres { get; init; }

    /// <summary>Root mean square error of the measured cells that are not gross.</summary>
    public required double RmseSoundMetres { get; init; }

    /// <summary>Missing cells as a fraction of <see cref="Cells"/>.</summary>
    public double MissingFraction => (double)Missing / Cells;

    /// <summary>Gross cells as a fraction of <see cref="Cells"/>.</summary>
    public double GrossFraction => (double)Gross / Cells;

    /// <summary>Cycle errors as a fraction of <see cref="Cells"/>.</summary>
    public double CycleFraction => (double)Cycle / Cells;

    /// <summary>Scores a grid.</summary>
    /// <param name="thicknessMetres">Measured wall by cell; NaN where not measured.</param>
    /// <param name="status">Status by cell, values of <see cref="CellStatus"/>.</param>
    /// <param name="truthMetres">True wall on the beam axis by cell; NaN where not known.</param>
    /// <param name="minimumTruthMetres">Smallest wall under the aperture by cell; empty when not known.</param>
    /// <param name="rules">Limits.</param>
    /// <remarks>What is gross, and the error where two truths hold: <see cref="AccuracyRules.Judge"/>.</remarks>
    public static AccuracyScore Of(
        ReadOnlySpan<float> thicknessMetres,
        ReadOnlySpan<byte> status,
        ReadOnlySpan<double> truthMetres,
        ReadOnlySpan<double> minimumTruthMetres,
        AccuracyRules rules
    )
    {
        ArgumentNullException.ThrowIfNull(rules);
        Check(status.Length, thicknessMetres.Length, nameof(status));
        Check(truthMetres.Length, thicknessMetres.Length, nameof(truthMetres));
        if (!minimumTruthMetres.IsEmpty)
            Check(minimumTruthMetres.Length, thicknessMetres.Length, nameof(minimumTruthMetres));

        long leftOut = 0;
        long thick = 0;
        long thin = 0;
        long cycle = 0;
        long overMinimum = 0;
        var errors = new List<double>();
        var sound = new List<double>();
        for (int cell = 0; cell < thicknessMetres.Length; cell++)
        {
            double truth = truthMetres[cell];
            if (double.IsNaN(truth) || status[cell] == (byte)CellStatus.NotScanned)
            {
                leftOut++;
                continue;
            }
            double value = thicknessMetres[cell];
            if (double.IsNaN(value))
                continue;
            double minimum = minimumTruthMetres.IsEmpty ? double.NaN : minimumTruthMetres[cell];
            CellVerdict verdict = rules.Judge(value, truth, minimum);
            double error = verdict.ErrorMetres;
            errors.Add(error);
            if (verdict.Gross && error > 0)
                thick++;
            else if (verdict.Gross)
                thin++;
            else
                sound.Add(error);
            if (verdict.Cycle)
                cycle++;
            if (verdict.ThickOverMinimum)
                overMinimum++;
        }
        return new AccuracyScore
        {
            Cells = thicknessMetres.Length - leftOut,
            LeftOut = leftOut,
            Measured = errors.Count,
            GrossThick = thick,
            GrossThin = thin,
            Cycle = cycle,
            ThickOverMinimum = overMinimum,
            BiasMetres = errors.Count > 0 ? errors.Average() : double.NaN,
            RmseMetres = Rms(errors),
            P95Metres = Quantile(errors.Select(Math.Abs), 0.95),
            MedianSoundMetres = Quantile(sound, 0.5),
            RmseSoundMetres = Rms(sound),
        };
    }

    private static double Rms(List<double> errors) =>
        errors.Count > 0 ? Math.Sqrt(errors.Sum(e => e * e) / errors.Count) : double.NaN;

    private static double Quantile(IEnumerable<double> values, double fraction)
    {
        double[] sorted = values.Order().ToArray();
        if (sorted.Length == 0)
            return double.NaN;
        double position = fraction * (sorted.Length - 1);
        int below = (int)position;
        int above = Math.Min(below + 1, sorted.Length - 1);
        return sorted[below] + (position - below) * (sorted[above] - sorted[below]);
    }

    private static void Check(int found, int expected, string name)
    {
        if (found != expected)
            throw new ArgumentException($"{found} values do not fit {expected} cells.", name);
    }
}
