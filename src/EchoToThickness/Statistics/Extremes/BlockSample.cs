namespace EchoToThickness.Statistics.Extremes;

/// <summary>Block maxima with their weight and size.</summary>
/// <remarks>
/// A value counts <c>weight</c> times in the likelihood. A block of <c>exposure</c> c has the distribution function of a unit block to the
/// power c: blocks of different metal area are not taken as equal.
/// </remarks>
public sealed class BlockSample
{
    private readonly double[] _values;
    private readonly double[] _weights;
    private readonly double[] _exposures;

    /// <summary>Checks and keeps the sample.</summary>
    /// <param name="values">Shape [value], finite.</param>
    /// <param name="weights">Shape [value], zero or more; empty for 1.</param>
    /// <param name="exposures">Shape [value], above zero; empty for 1.</param>
    /// <param name="noiseDeviation">Deviation of normal noise, independent from cell to cell, that fits take out (<see cref="NoisyTail"/>).</param>
    public BlockSample(
        ReadOnlySpan<double> values,
        ReadOnlySpan<double> weights = default,
        ReadOnlySpan<double> exposures = default,
        double noiseDeviation = 0
    )
    {
        if (!(noiseDeviation >= 0) || !double.IsFinite(noiseDeviation))
            throw new ArgumentOutOfRangeException(
                nameof(noiseDeviation),
                noiseDeviation,
                "A finite deviation of zero or more."
            );
        NoiseDeviation = noiseDeviation;
        _values = values.ToArray();
        _weights = weights.IsEmpty ? Ones(values.Length) : weights.ToArray();
        _exposures = exposures.IsEmpty ? Ones(values.Length) : exposures.ToArray();
        if (_weights.Length != _values.Length || _exposures.Length != _values.Length)
            throw new ArgumentException("One weight and one exposure for each value are needed.", nameof(values));
        for (int k = 0; k < _values.Length; k++)
            if (!double.IsFinite(_values[k]) || !(_weights[k] >= 0) || !(_exposures[k] > 0))
                throw new ArgumentException(
                    System.FormattableString.Invariant(
                        $"Value {k} is {_values[k]}, its weight {_weights[k]}, its exposure {_exposures[k]}."
                    ),
                    nameof(values)
                );
        for (int k = 0; k < _values.Length; k++)
            if (_exposures[k] != 1)
                LogExposureSum += _weights[k] * Math.Log(_exposures[k]);
    }

    /// <summary>Sum of weight times logarithm of exposure: the part of the likelihood that no parameter changes.</summary>
    internal double LogExposureSum { get; }

    /// <summary>Shape [value].</summary>
    public ReadOnlySpan<double> Values => _values;

    /// <summary>Shape [value].</summary>
    public ReadOnlySpan<double> Weights => _weights;

    /// <summary>Shape [value].</summary>
    public ReadOnlySpan<double> Exposures => _exposures;

    /// <summary>Deviation of the noise that fits take out; 0 for none.</summary>
    public double NoiseDeviation { get; }

    /// <summary>Number of values.</summary>
    public int Count => _values.Length;

    private static double[] Ones(int count)
    {
        var ones = new double[count];
        Array.Fill(ones, 1);
        return ones;
    }
}
