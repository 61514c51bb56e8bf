using EchoToThickness.Procedures;

namespace EchoToThickness.Pairing;

/// <summary>The probability that a measured wall rests on a wrong echo, from its signs: a logistic regression on straight lines between knots.</summary>
/// <remarks>
/// <c>p = f + (1 - f) / (1 + exp(-(w0 + sum w_k x_k)))</c>: the columns <c>x_k</c> are <see cref="Columns"/>, weights and floor <c>f</c>, the share
/// of cells that mislead whatever they show, stand in <see cref="WrongEchoWeights"/>, one row for each way of choosing and expectation. Fitted on simulated scenes
/// and checked on others by <c>tools/mapstudy</c>; docs/theory/map-pairing.md says on which, docs/validation.md how well. Costs some 40
/// multiplications.
/// </remarks>
public static class WrongEchoModel
{
    /// <summary>Number of columns, the constant one included.</summary>
    public const int ColumnCount = 39;

    /// <summary>Signal-to-noise ratio counted where none is known, decibels.</summary>
    private const double UsualSignalToNoise = 30;

    /// <summary>Strength counted where the interface or back-wall echo 1 is missing, decibels.</summary>
    private const double UsualStrength = -22;

    private static readonly double[] LeadKnots = [-16, -8, -3, 4];
    private static readonly double[] OwnLeadKnots = [-16, -4, 4];
    private static readonly double[] NoWallKnots = [-30, -20, -12, 0];
    private static readonly double[] SignalKnots = [12, 17, 21, 28];
    private static readonly double[] StrengthKnots = [-36, -28, -22, -18];
    private static readonly double[] ClutterKnots = [-18, -6, 3];
    private static readonly double[] AlikeKnots = [0, 3, 8];

    /// <summary>The probability.</summary>
    /// <param name="signs">Signs of the wall.</param>
    /// <param name="choice">Whether and how neighbours were heard.</param>
    /// <param name="expect">What an early reflector is taken for.</param>
    public static double Probability(in WrongEchoSigns signs, MapChoice choice, TrainExpectation expect)
    {
        Span<double> columns = stackalloc double[ColumnCount];
        Columns(signs, columns);
        ReadOnlySpan<double> weights = WrongEchoWeights.Of(choice, expect);
        double sum = 0;
        for (int k = 0; k < ColumnCount; k++)
            sum += weights[1 + k] * columns[k];
        return weights[0] + (1 - weights[0]) / (1 + Math.Exp(-sum));
    }

    /// <summary>Columns of the regression, the constant one first. Each sign with knots gives its way past the first knot and past each inner one.</summary>
    /// <param name="signs">Signs of the wall.</param>
    /// <param name="columns">Takes the columns; <see cref="ColumnCount"/> long.</param>
    public static void Columns(in WrongEchoSigns signs, Span<double> columns)
    {
        int at = 0;
        columns[at++] = 1;
        at = Lines(signs.ThinnerNats, LeadKnots, columns, at);
        at = Lines(signs.ThickerNats, LeadKnots, columns, at);
        at = Lines(signs.MultipleNats, LeadKnots, columns, at);
        at = Lines(signs.OwnThinnerNats, OwnLeadKnots, columns, at);
        at = Lines(signs.OwnThickerNats, OwnLeadKnots, columns, at);
        at = Lines(signs.NoWallNats, NoWallKnots, columns, at);
        at = Lines(Known(signs.SignalToNoiseDecibels, UsualSignalToNoise), SignalKnots, columns, at);
        at = Lines(Known(signs.StrengthDecibels, UsualStrength), StrengthKnots, columns, at);
        at = Lines(signs.ClutterDecibels, ClutterKnots, columns, at);
        at = Lines(signs.Alike, AlikeKnots, columns, at);
        columns[at++] = signs.ThinnestBesideFraction;
        columns[at++] = signs.Contradicted ? 1 : 0;
        columns[at++] = signs.Echoes == 1 ? 1 : 0;
        columns[at++] = signs.Echoes == 2 ? 1 : 0;
        columns[at++] = signs.FromSearch ? 1 : 0;
        columns[at++] = signs.FromEarlyReflector ? 1 : 0;
        columns[at++] = signs.BehindReflector ? 1 : 0;
        columns[at++] = signs.Alone ? 1 : 0;
        columns[at++] = signs.ChosenOverMap ? 1 : 0;
        columns[at++] = signs.ChosenOverMap && signs.BehindReflector ? 1 : 0;
        columns[at++] = signs.Alone && signs.Echoes <= 2 ? 1 : 0;
        columns[at++] = signs.Alone && double.IsNaN(signs.StrengthDecibels) ? 1 : 0;
    }

    private static int Lines(double value, double[] knots, Span<double> columns, int at)
    {
        value = Math.Clamp(value, knots[0], knots[^1]);
        for (int k = 0; k < knots.Length - 1; k++)
            columns[at++] = Math.Max(value - knots[k], 0);
        return at;
    }

    private static double Known(double value, double usual) => double.IsNaN(value) ? usual : value;
}
