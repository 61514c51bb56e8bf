using System.CommandLine.Parsing;
using System.Globalization;

namespace EchoToThickness.Cli.Terminal;

/// <summary>Reads numbers from the command line the same way on every machine: a point for decimals, no thousands separators.</summary>
public static class Numbers
{
    /// <summary>A whole number in a range.</summary>
    /// <param name="minimum">Smallest allowed.</param>
    /// <param name="maximum">Largest allowed.</param>
    public static Func<ArgumentResult, int> Whole(int minimum, int maximum = int.MaxValue) =>
        result =>
        {
            string text = Text(result);
            if (
                int.TryParse(text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out int value)
                && value >= minimum
                && value <= maximum
            )
                return value;
            string range = maximum == int.MaxValue ? $"of {minimum} or more" : $"from {minimum} to {maximum}";
            result.AddError($"'{text}' is not a whole number {range} (for {Owner(result)}).");
            return minimum;
        };

    /// <summary>A decimal number in a range.</summary>
    /// <param name="minimum">Smallest allowed.</param>
    /// <param name="maximum">Largest allowed.</param>
    public static Func<ArgumentResult, double?> Decimal(double minimum, double maximum) =>
        result =>
        {
            string text = Text(result);
            if (
                double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double value)
                && value >= minimum
                && value <= maximum
            )
                return value;
            result.AddError(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"'{text}' is not a number from {minimum} to {maximum}, with a point for decimals (for {Owner(result)})."
                )
            );
            return null;
        };

    private static string Text(ArgumentResult result) => result.Tokens.Count > 0 ? result.Tokens[0].Value : "";

    private static string Owner(ArgumentResult result) =>
        result.Parent is OptionResult option ? option.Option.Name : result.Argument.Name;
}
