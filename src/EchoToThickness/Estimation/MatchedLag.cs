namespace EchoToThickness.Estimation;

/// <summary>
/// A complex matched filter about one lag: its three values with the carrier taken off, between which the envelope is a parabola.
/// </summary>
internal readonly struct MatchedLag
{
    private readonly double _angular;
    private readonly double _r0;
    private readonly double _i0;
    private readonly double _r1;
    private readonly double _i1;
    private readonly double _r2;
    private readonly double _i2;

    /// <param name="angular">Carrier, radians a sample.</param>
    /// <param name="real">Value at the lag.</param>
    /// <param name="imaginary">Value at the lag.</param>
    /// <param name="nextReal">Value one lag later, turned back.</param>
    /// <param name="nextImaginary">Value one lag later, turned back.</param>
    /// <param name="lastReal">Value one lag earlier, turned on.</param>
    /// <param name="lastImaginary">Value one lag earlier, turned on.</param>
    public MatchedLag(
        double angular,
        double real,
        double imaginary,
        double nextReal,
        double nextImaginary,
        double lastReal,
        double lastImaginary
    )
    {
        _angular = angular;
        (_r0, _i0) = (real, imaginary);
        (_r1, _i1) = (0.5 * (nextReal - lastReal), 0.5 * (nextImaginary - lastImaginary));
        (_r2, _i2) = (0.5 * (nextReal + lastReal) - real, 0.5 * (nextImaginary + lastImaginary) - imaginary);
    }

    /// <summary>Minus the second derivative of the real part at the lag.</summary>
    public double CurvatureAtZero => _angular * _angular * _r0 + 2 * _angular * _i1 - 2 * _r2;

    /// <summary>Real part beside the lag.</summary>
    /// <param name="offset">Distance from the lag, samples; about one at most.</param>
    /// <param name="slope">Its derivative.</param>
    /// <param name="envelopeSlope">The part of the derivative that is the envelope's.</param>
    public double Real(double offset, out double slope, out double envelopeSlope)
    {
        double real = _r0 + offset * (_r1 + offset * _r2);
        double imaginary = _i0 + offset * (_i1 + offset * _i2);
        double dr = _r1 + 2 * offset * _r2;
        double di = _i1 + 2 * offset * _i2;
        (double s, double c) = Math.SinCos(_angular * offset);
        envelopeSlope = dr * c - di * s;
        slope = envelopeSlope - _angular * (real * s + imaginary * c);
        return real * c - imaginary * s;
    }
}
