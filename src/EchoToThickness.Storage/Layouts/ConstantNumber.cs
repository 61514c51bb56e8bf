using System.Globalization;

namespace EchoToThickness.Storage.Layouts;

/// <summary>Plain numbers in layout maps: digits, sign, point, exponent; no separators.</summary>
internal static class ConstantNumber
{
    public static bool TryParse(string text, out double value) =>
        double.TryParse(
            text,
            NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint | NumberStyles.AllowExponent,
            CultureInfo.InvariantCulture,
            out value
        ) && double.IsFinite(value);
}
