using System.Globalization;
using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Studies.Tune;

/// <summary>What is true of each figure: word, unit, what one point of loss is, what it needs.</summary>
public static class TuneFigures
{
    /// <summary>Objectives of a study that names none.</summary>
    /// <param name="truth">What rule sets are held against.</param>
    public static IReadOnlyList<TuneFigure> Usual(TruthChoice truth) =>
        truth == TruthChoice.Known
            ? [TuneFigure.Gross, TuneFigure.Missing, TuneFigure.RmseSound]
            : [TuneFigure.Missing, TuneFigure.Disagreement, TuneFigure.Jumps];

    /// <summary>The word in files and tables.</summary>
    /// <param name="figure">The figure.</param>
    public static string WordOf(TuneFigure figure) =>
        KeyDescription.ChoicesOf(typeof(TuneFigure)).First(c => c.Value.Equals(figure)).Choice.Word;

    /// <summary>Fraction, length, or null for a plain number.</summary>
    /// <param name="figure">The figure.</param>
    public static Dimension? DimensionOf(TuneFigure figure) =>
        figure switch
        {
            TuneFigure.Bias or TuneFigure.Rmse or TuneFigure.RmseSound or TuneFigure.P95 => Dimension.Length,
            TuneFigure.Calibration => null,
            _ => Dimension.Fraction,
        };

    /// <summary>How much of a figure costs one point where the study does not say, SI.</summary>
    /// <param name="figure">The figure.</param>
    public static double UsualPer(TuneFigure figure) =>
        figure switch
        {
            TuneFigure.Bias or TuneFigure.Rmse or TuneFigure.RmseSound => 20e-6,
            TuneFigure.P95 => 50e-6,
            TuneFigure.Calibration => 0.2,
            TuneFigure.Missing or TuneFigure.Disagreement or TuneFigure.Jumps or TuneFigure.Repeatability => 0.01,
            TuneFigure.PitsMissed => 0.05,
            _ => 0.001,
        };

    /// <summary>Whether a figure is one of self-consistency, that is, needs no truth.</summary>
    /// <param name="figure">The figure.</param>
    public static bool NeedsNoTruth(TuneFigure figure) =>
        figure is TuneFigure.Missing or TuneFigure.Disagreement or TuneFigure.Jumps or TuneFigure.Repeatability;

    /// <summary>Whether a figure needs the true wall.</summary>
    /// <param name="figure">The figure.</param>
    public static bool NeedsTruth(TuneFigure figure) => !NeedsNoTruth(figure);

    /// <summary>Reads a quantity of a figure.</summary>
    /// <param name="figure">The figure.</param>
    /// <param name="text">As a study writes it.</param>
    /// <exception cref="UnitException">Not a quantity of the figure's unit.</exception>
    public static double Parse(TuneFigure figure, string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        if (DimensionOf(figure) is { } dimension)
            return UnitText.Parse(text, dimension);
        return double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double value)
            ? value
            : throw new UnitException($"'{text}' is not a plain number.", "write a number such as \"0.2\".");
    }

    /// <summary>Prints a quantity for people: percent, micrometres, plain.</summary>
    /// <param name="figure">The figure.</param>
    /// <param name="value">SI.</param>
    public static string Text(TuneFigure figure, double value)
    {
        if (double.IsNaN(value))
            return "-";
        string format =
            value == 0 ? "0"
            : DimensionOf(figure) == Dimension.Length ? "0.0"
            : "0.000";
        return (value * ScaleOf(figure)).ToString(format, CultureInfo.InvariantCulture);
    }

    /// <summary>Factor from SI to what people read.</summary>
    /// <param name="figure">The figure.</param>
    public static double ScaleOf(TuneFigure figure) =>
        DimensionOf(figure) switch
        {
            Dimension.Fraction => 100,
            Dimension.Length => 1e6,
            _ => 1,
        };

    /// <summary>Unit that people read: <c>%</c>, <c>um</c> or nothing.</summary>
    /// <param name="figure">The figure.</param>
    public static string UnitOf(TuneFigure figure) =>
        DimensionOf(figure) switch
        {
            Dimension.Fraction => "%",
            Dimension.Length => "um",
            _ => "",
        };
}
