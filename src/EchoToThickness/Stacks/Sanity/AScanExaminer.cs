namespace EchoToThickness.Stacks.Sanity;

/// <summary>Takes the features of single A-scans and gathers the sums over them. One thread; deterministic.</summary>
internal sealed class AScanExaminer
{
    private readonly SampleType _type;
    private readonly double[] _counts;
    private readonly double[] _sorted;

    public AScanExaminer(StackInfo info, int samples)
    {
        _type = info.SampleType;
        _counts = new double[samples];
        _sorted = new double[samples];
        SamplePower = new double[samples];
        Spectrum = new RepeatSpectrum(samples);
    }

    /// <summary>Shape [sample]: mean square about the median, summed over A-scans.</summary>
    public double[] SamplePower { get; }

    /// <summary>Averaged spectrum and the search for repeats.</summary>
    public RepeatSpectrum Spectrum { get; }

    /// <summary>Looks at one A-scan.</summary>
    /// <param name="bytes">Stored samples; those beyond the examiner's length are left out.</param>
    /// <param name="scan">Its scan position.</param>
    /// <param name="beam">Its beam.</param>
    /// <param name="withSpectrum">Whether to add its spectrum and search its repeats (the dear part).</param>
    public AScanFeatures Examine(ReadOnlySpan<byte> bytes, int scan, int beam, bool withSpectrum)
    {
        AScanFeatures f = new()
        {
            Scan = scan,
            Beam = beam,
            Interface = -1,
            NoiseRms = double.NaN,
            RepeatLag = double.NaN,
        };
        double[] x = _counts;
        StoredCounts.ToCounts(bytes, _type, x);
        for (int i = 0; i < x.Length; i++)
        {
            if (double.IsFinite(x[i]))
                continue;
            f.NonFinite++;
            x[i] = 0;
        }
        x.CopyTo(_sorted, 0);
        Array.Sort(_sorted);
        f.Minimum = _sorted[0];
        f.Maximum = _sorted[^1];
        f.Constant = f.Minimum == f.Maximum;
        f.Median = Quantile(0.5);
        f.LowerQuartile = Quantile(0.25);
        f.Lowest = Quantile(0.001);
        f.Highest = Quantile(0.999);
        if (f.Constant)
            return f;
        f.MinimumRun = LongestRun(x, f.Minimum);
        f.MaximumRun = LongestRun(x, f.Maximum);
        Steps(ref f);
        for (int i = 0; i < x.Length; i++)
        {
            double d = x[i] - f.Median;
            f.Power += d * d;
            SamplePower[i] += d * d;
            if (Math.Abs(d) > f.Peak)
            {
                f.Peak = Math.Abs(d);
                f.StrongestPositive = d > 0;
            }
        }
        f.Power /= x.Length;
        Onset(ref f);
        f.HasSpectrum = withSpectrum;
        if (withSpectrum)
            f.RepeatLag = Spectrum.Add(x, f.Median, f.Power * x.Length);
        return f;
    }

    private double Quantile(double fraction) => _sorted[(int)(fraction * (_sorted.Length - 1))];

    private static int LongestRun(double[] x, double value)
    {
        int longest = 0;
        int run = 0;
        foreach (double sample in x)
        {
            run = sample == value ? run + 1 : 0;
            longest = Math.Max(longest, run);
        }
        return longest;
    }

    private void Steps(ref AScanFeatures f)
    {
        double range = _type switch
        {
            SampleType.Int8 or SampleType.UInt8 => 256,
            SampleType.Int16 or SampleType.UInt16 => 65536,
            _ => 0,
        };
        double half = 0.5 * range;
        for (int i = 1; i < _counts.Length; i++)
        {
            double step = Math.Abs(_counts[i] - _counts[i - 1]);
            f.StepSum += step;
            // Shifting both samples by half the range changes their difference by a whole range when only one of them wraps,
            // that is when they lie on different sides of the middle of the stored range.
            double middle = _type is SampleType.Int8 or SampleType.Int16 ? 0 : half;
            bool differ = range > 0 && (_counts[i] < middle) != (_counts[i - 1] < middle);
            f.WrappedStepSum += differ ? range - step : step;
        }
    }

    private void Onset(ref AScanFeatures f)
    {
        double level = 0.4 * f.Peak;
        double lead = 0.2 * f.Peak;
        int leading = -1;
        for (int i = 0; i < _counts.Length && f.Interface < 0; i++)
        {
            double d = Math.Abs(_counts[i] - f.Median);
            if (leading < 0 && d > lead)
                leading = i;
            if (d > level)
                f.Interface = i;
        }
        f.LeadingPositive = leading >= 0 && _counts[leading] > f.Median;
        // Stay clear of the echo's own rise: use the first three quarters of the way to it.
        int quiet = 3 * f.Interface / 4;
        if (quiet < 16)
            return;
        double sum = 0;
        for (int i = 0; i < quiet; i++)
            sum += (_counts[i] - f.Median) * (_counts[i] - f.Median);
        f.NoiseRms = Math.Sqrt(sum / quiet);
    }
}
