using System.Globalization;

namespace EchoToThickness.Units;

/// <summary>
/// Decimal digits as text, with the decimal point moved in the text and not by a multiplication: a multiplication by 1e-3 rounds
/// once more, moving the point does not.
/// </summary>
internal static class DecimalText
{
    /// <summary>Length of the number at the start of a text, <c>[+-]digits[.digits][e[+-]digits]</c>; 0 when there is none.</summary>
    public static int NumberLength(ReadOnlySpan<char> text)
    {
        int i = 0;
        if (i < text.Length && text[i] is '+' or '-')
            i++;
        int digits = Digits(text, ref i);
        if (digits == 0)
            return 0;
        if (i + 1 < text.Length && text[i] == '.' && char.IsAsciiDigit(text[i + 1]))
        {
            i++;
            Digits(text, ref i);
        }
        if (i < text.Length && text[i] is 'e' or 'E')
        {
            int j = i + 1;
            if (j < text.Length && text[j] is '+' or '-')
                j++;
            if (Digits(text, ref j) > 0)
                i = j;
        }
        return i;
    }

    /// <summary>The double nearest to <c>number × 10^power</c>, rounded once.</summary>
    /// <param name="number">A number as <see cref="NumberLength"/> finds it.</param>
    /// <param name="power">Power of ten.</param>
    /// <param name="value">The value; NaN or infinite when false is returned.</param>
    /// <returns>False when the number is too large for a double.</returns>
    public static bool TryScale(ReadOnlySpan<char> number, int power, out double value)
    {
        int mark = number.IndexOfAny('e', 'E');
        ReadOnlySpan<char> mantissa = mark < 0 ? number : number[..mark];
        long exponent = 0;
        value = double.NaN;
        if (
            mark >= 0
            && !long.TryParse(
                number[(mark + 1)..],
                NumberStyles.AllowLeadingSign,
                CultureInfo.InvariantCulture,
                out exponent
            )
        )
            return false;
        if (Math.Abs(exponent) > 1_000_000)
            return false;
        string scaled = string.Create(CultureInfo.InvariantCulture, $"{mantissa}e{exponent + power}");
        return double.TryParse(scaled, NumberStyles.Float, CultureInfo.InvariantCulture, out value)
            && double.IsFinite(value);
    }

    /// <summary>The shortest decimal text that <see cref="TryScale"/> with the same power reads back to exactly this value.</summary>
    /// <param name="value">A finite value.</param>
    /// <param name="power">Power of ten that reading will apply.</param>
    public static string Print(double value, int power)
    {
        if (value == 0)
            return "0";
        // "E16" has 17 significant digits; "R" is the shortest text that reads back to the same double.
        string shortest = value.ToString("R", CultureInfo.InvariantCulture);
        bool negative = shortest[0] == '-';
        if (negative)
            shortest = shortest[1..];
        int mark = shortest.IndexOf('E');
        int exponent = mark < 0 ? 0 : int.Parse(shortest[(mark + 1)..], CultureInfo.InvariantCulture);
        string mantissa = mark < 0 ? shortest : shortest[..mark];
        int point = mantissa.IndexOf('.');
        string digits = mantissa.Replace(".", "", StringComparison.Ordinal);
        // value = 0.digits × 10^scale
        int scale = (point < 0 ? mantissa.Length : point) + exponent - power;
        string trimmed = digits.TrimStart('0');
        scale -= digits.Length - trimmed.Length;
        trimmed = trimmed.TrimEnd('0');
        return (negative ? "-" : "") + Layout(trimmed, scale);
    }

    private static string Layout(string digits, int scale)
    {
        if (scale is > 17 or < -9)
        {
            string fraction = digits.Length > 1 ? "." + digits[1..] : "";
            return string.Create(CultureInfo.InvariantCulture, $"{digits[0]}{fraction}e{scale - 1}");
        }
        if (scale <= 0)
            return "0." + new string('0', -scale) + digits;
        if (scale >= digits.Length)
            return digits + new string('0', scale - digits.Length);
        return digits[..scale] + "." + digits[scale..];
    }

    private static int Digits(ReadOnlySpan<char> text, ref int i)
    {
        int start = i;
        while (i < text.Length && char.IsAsciiDigit(text[i]))
            i++;
        return i - start;
    }
}
