using System.Globalization;
using EchoToThickness.Validation;

namespace EchoToThickness.Studies.Validate;

/// <summary>Figures in words, the same on every machine.</summary>
internal static class Words
{
    private static readonly CultureInfo Culture = CultureInfo.InvariantCulture;

    public static string Count(long count) => count.ToString("#,0", Culture);

    public static string Probability(double p) =>
        double.IsNaN(p) ? "not given"
        : p < 1e-4 ? "below 0.0001"
        : p.ToString("0.0000", Culture);

    /// <summary>A number without its unit.</summary>
    public static string Value(double value, StatementUnit unit)
    {
        if (double.IsNaN(value))
            return "-";
        if (double.IsInfinity(value))
            return value > 0 ? "no limit" : "no lower limit";
        return unit switch
        {
            StatementUnit.Millimetres => (value * 1e3).ToString("0.0000", Culture),
            StatementUnit.Percent => (value * 100).ToString("0.###", Culture),
            StatementUnit.PerSquareMetre => value.ToString("0.##", Culture),
            _ => value.ToString("0.00000", Culture),
        };
    }

    public static string UnitOf(StatementUnit unit) =>
        unit switch
        {
            StatementUnit.Millimetres => "mm",
            StatementUnit.Percent => "%",
            StatementUnit.PerSquareMetre => "per square metre",
            _ => "",
        };

    public static string IntervalOf(Estimate figure, StatementUnit unit) =>
        figure.Refusal is not null || !figure.Interval.IsKnown ? "-"
        : double.IsNegativeInfinity(figure.Interval.Low) ? "up to " + Value(figure.Interval.High, unit)
        : double.IsPositiveInfinity(figure.Interval.High) ? "from " + Value(figure.Interval.Low, unit)
        : $"{Value(figure.Interval.Low, unit)} to {Value(figure.Interval.High, unit)}";

    /// <summary>Value with its interval in brackets.</summary>
    public static string Figure(Estimate figure, StatementUnit unit) =>
        figure.Refusal is not null || !figure.Interval.IsKnown
            ? Value(figure.Value, unit)
            : $"{Value(figure.Value, unit)} ({IntervalOf(figure, unit)})";

    public static string Freedom(double degrees) =>
        double.IsNaN(degrees) ? "-"
        : double.IsInfinity(degrees) ? "infinite"
        : degrees.ToString("0.#", Culture);

    /// <summary>Orders names with numbers by their numbers.</summary>
    public static int CompareNatural(string a, string b)
    {
        double First(string text)
        {
            int length = text.TakeWhile(c => char.IsAsciiDigit(c) || c == '.').Count();
            return double.TryParse(text[..length], NumberStyles.Float, Culture, out double number)
                ? number
                : double.PositiveInfinity;
        }
        int byNumber = First(a).CompareTo(First(b));
        return byNumber != 0 ? byNumber : string.CompareOrdinal(a, b);
    }
}
