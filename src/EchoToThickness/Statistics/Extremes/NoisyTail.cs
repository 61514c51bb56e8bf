namespace EchoToThickness.Statistics.Extremes;

/// <summary>
/// The tail that is seen when every value of an extreme-value tail carries normal noise of its own: what turns a fit to noisy block
/// minima into one of the metal.
/// </summary>
/// <remarks>
/// Large values of a block are a Poisson process with the mean number <c>t(x)</c> above x (Coles 2001, theorem 7.1). Noise moves every point
/// independently, so the noisy values are again a Poisson process (displacement theorem, Kingman, Poisson Processes, 1993, 5.5) with the mean
/// number <c>E t(y - e)</c> above y, and the largest noisy value has the distribution <c>exp(-E t(y - e))</c>. For shape 0 this is the same Gumbel
/// distribution moved by <c>u^2 / (2 scale)</c>; otherwise eight Gauss-Hermite nodes. The number of values of a block above x is cut at
/// 100: below that level no block has its extreme. Noise that neighbours share moves less than this; walls that neighbours share are drawn
/// more often, which moves more: what is taken out is not too much then.
/// </remarks>
public readonly struct NoisyTail
{
    private const double MostValues = 100;
    private const int Steps = 400;

    private static readonly double[] Nodes =
    [
        0.5390798113513751,
        1.636519042435108,
        2.80248586128754,
        4.144547186125894,
    ];

    private static readonly double[] Weights =
    [
        0.37301225767907736,
        0.11723990766175905,
        0.009635220120788268,
        0.00011261453837536772,
    ];

    private readonly GeneralisedExtremeValue _tail;
    private readonly double _noise;
    private readonly double _factor;

    /// <summary>Noise on a tail.</summary>
    /// <param name="tail">Distribution of the largest value without noise; its hazard is the mean number above a value.</param>
    /// <param name="noise">Standard deviation of the noise, in the unit of the values, zero or more.</param>
    public NoisyTail(GeneralisedExtremeValue tail, double noise)
    {
        if (!(noise >= 0) || !double.IsFinite(noise))
            throw new ArgumentOutOfRangeException(nameof(noise), noise, "A finite deviation of zero or more.");
        _tail = tail;
        _noise = noise;
        _factor = tail.Shape == 0 ? Math.Exp(noise * noise / (2 * tail.Scale * tail.Scale)) : 1;
    }

    /// <summary>Mean number of noisy values above a value.</summary>
    /// <param name="value">Value.</param>
    public double Hazard(double value) => At(value).Hazard;

    /// <summary>Mean number above a value, and its density there.</summary>
    /// <param name="value">Value.</param>
    /// <returns>Density per unit of the values: <c>E t^(1 + shape) / scale</c>.</returns>
    public (double Hazard, double Density) At(double value)
    {
        if (_noise == 0 || _tail.Shape == 0)
        {
            double plain = _factor * _tail.Hazard(value);
            return (plain, (_tail.Shape == 0 ? plain : Math.Pow(plain, 1 + _tail.Shape)) / _tail.Scale);
        }
        double hazard = 0;
        double density = 0;
        for (int k = 0; k < Nodes.Length; k++)
        {
            double step = _noise * Nodes[k];
            Add(value - step, Weights[k], ref hazard, ref density);
            Add(value + step, Weights[k], ref hazard, ref density);
        }
        return (hazard, density / _tail.Scale);
    }

    /// <summary>The value above which the mean number of noisy values is given, by a table of 400 steps in its logarithm.</summary>
    /// <returns>A function of that number; linear between steps and beyond the ends.</returns>
    public Func<double, double> Inverse()
    {
        if (_noise == 0 || _tail.Shape == 0)
        {
            GeneralisedExtremeValue tail = _tail;
            double factor = _factor;
            return hazard => tail.AtHazard(hazard / factor);
        }
        var logs = new double[Steps + 1];
        var values = new double[Steps + 1];
        double low = _tail.AtHazard(30) - 2 * _noise;
        double high = _tail.AtHazard(1e-6) + 4 * _noise;
        int count = 0;
        for (int k = 0; k <= Steps; k++)
        {
            double value = high + (low - high) * k / Steps;
            double hazard = Hazard(value);
            // Beyond the upper end of a bounded tail plus noise there is nothing.
            if (!(hazard > 0) || (count > 0 && !(Math.Log(hazard) > logs[count - 1])))
                continue;
            logs[count] = Math.Log(hazard);
            values[count++] = value;
        }
        return hazard =>
        {
            double log = Math.Log(hazard);
            int place = Array.BinarySearch(logs, 0, count, log);
            int k = Math.Clamp(place >= 0 ? place : ~place, 1, count - 1);
            double part = (log - logs[k - 1]) / (logs[k] - logs[k - 1]);
            return values[k - 1] + part * (values[k] - values[k - 1]);
        };
    }

    private void Add(double value, double weight, ref double hazard, ref double density)
    {
        double t = _tail.Hazard(value);
        // Above the upper end of a bounded tail: a negative power of zero would be no number.
        if (t == 0)
            return;
        if (t >= MostValues)
        {
            hazard += weight * MostValues;
            return;
        }
        hazard += weight * t;
        density += weight * t * Math.Pow(t, _tail.Shape);
    }
}
