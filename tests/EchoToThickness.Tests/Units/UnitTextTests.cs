using CsCheck;
using EchoToThickness.Units;
using Xunit;

namespace EchoToThickness.Tests.Units;

/// <summary>Conversions are exact by definition of the SI prefixes, the inch (25.4 mm) and the degree; no tolerance is needed.</summary>
public sealed class UnitTextTests
{
    [Theory]
    [InlineData("8.6 mm", Dimension.Length, 8.6e-3)]
    [InlineData("8.6mm", Dimension.Length, 8.6e-3)]
    [InlineData("  0.3 um ", Dimension.Length, 0.3e-6)]
    [InlineData("250 \u00B5m", Dimension.Length, 250e-6)]
    [InlineData("250 \u03BCm", Dimension.Length, 250e-6)]
    [InlineData("2 in", Dimension.Length, 2 * 0.0254)]
    [InlineData("0.25 us", Dimension.Time, 0.25e-6)]
    [InlineData("0.25 \u00B5s", Dimension.Time, 0.25e-6)]
    [InlineData("0.25 \u03BCs", Dimension.Time, 0.25e-6)]
    [InlineData("-3 ns", Dimension.Time, -3e-9)]
    [InlineData("1e-3 s", Dimension.Time, 1e-3)]
    [InlineData("5920 m/s", Dimension.Velocity, 5920)]
    [InlineData("5.92 mm/us", Dimension.Velocity, 5920)]
    [InlineData("5.92 km/s", Dimension.Velocity, 5920)]
    [InlineData("7 MHz", Dimension.Frequency, 7e6)]
    [InlineData("100 MS/s", Dimension.Frequency, 100e6)]
    [InlineData("+20 degC", Dimension.Temperature, 20)]
    [InlineData("68 degF", Dimension.Temperature, 20)]
    [InlineData("5 K", Dimension.TemperatureDifference, 5)]
    [InlineData("-0.8 m/s/K", Dimension.VelocityPerKelvin, -0.8)]
    [InlineData("180 deg", Dimension.Angle, Math.PI)]
    [InlineData("0.2 rad", Dimension.Angle, 0.2)]
    [InlineData("30 %", Dimension.Fraction, 0.3)]
    [InlineData("-6 dB", Dimension.Decibel, -6)]
    public void Parse_QuantityOfItsDimension_IsExactlySi(string text, Dimension dimension, double expected)
    {
        // degF: 68 x 5/9 - 160/9 rounds twice; every other unit is exact.
        double tolerance = text.EndsWith("degF", StringComparison.Ordinal) ? 1e-13 : 0;
        Assert.InRange(UnitText.Parse(text, dimension) - expected, -tolerance, tolerance);
    }

    [Theory]
    [InlineData("8,6 mm", Dimension.Length, "contains a comma", "decimal point")]
    [InlineData("1,000 m/s", Dimension.Velocity, "contains a comma", "no thousands separators")]
    [InlineData("5'920 m/s", Dimension.Velocity, "thousands separator", "without separators")]
    [InlineData("5_920 m/s", Dimension.Velocity, "thousands separator", "without separators")]
    [InlineData("8.6", Dimension.Length, "has no unit", "\"8.6 mm\"")]
    [InlineData("8.6 us", Dimension.Length, "is a time, not a length", "units: mm")]
    [InlineData("7 mhz", Dimension.Frequency, "unknown unit 'mhz'", "MHz")]
    [InlineData("7 mhz", Dimension.Frequency, "capital and small letters differ: 'MHz'", "MHz")]
    [InlineData("8.6 furlong", Dimension.Length, "unknown unit 'furlong'", "units: mm, um")]
    [InlineData("mm", Dimension.Length, "does not begin with a number", "\"8.6 mm\"")]
    [InlineData("", Dimension.Time, "empty", "\"0.25 us\"")]
    [InlineData("NaN mm", Dimension.Length, "does not begin with a number", "\"8.6 mm\"")]
    [InlineData("Infinity s", Dimension.Time, "does not begin with a number", "\"0.25 us\"")]
    [InlineData("1e999 s", Dimension.Time, "too large", "ordinary size")]
    [InlineData("1e99999999999999999999 s", Dimension.Time, "too large", "ordinary size")]
    [InlineData("8.6.1 mm", Dimension.Length, "unknown unit '.1 mm'", "units: mm")]
    [InlineData("\u22126 dB", Dimension.Decibel, "typographic minus", "'-'")]
    [InlineData("20 K", Dimension.Temperature, "is a temperature difference, not a temperature", "degC")]
    public void Parse_WrongText_SaysWhatAndHowToFix(string text, Dimension dimension, string what, string remedy)
    {
        UnitException error = Assert.Throws<UnitException>(() => UnitText.Parse(text, dimension));
        Assert.Contains(what, error.What, StringComparison.Ordinal);
        Assert.Contains(remedy, error.Remedy, StringComparison.Ordinal);
        Assert.False(UnitText.TryParse(text, dimension, out double value));
        Assert.True(double.IsNaN(value));
    }

    [Theory]
    [InlineData(8.6e-3, Dimension.Length, "8.6 mm")]
    [InlineData(5e-6, Dimension.Length, "5 um")]
    [InlineData(12, Dimension.Length, "12 m")]
    [InlineData(0.25e-6, Dimension.Time, "0.25 us")]
    [InlineData(2e-9, Dimension.Time, "2 ns")]
    [InlineData(0, Dimension.Time, "0 us")]
    [InlineData(7e6, Dimension.Frequency, "7 MHz")]
    [InlineData(5920, Dimension.Velocity, "5920 m/s")]
    [InlineData(-0.8, Dimension.VelocityPerKelvin, "-0.8 m/s/K")]
    [InlineData(0.3, Dimension.Fraction, "30 %")]
    [InlineData(1e-12, Dimension.Fraction, "0.0000000001 %")]
    [InlineData(12 * (Math.PI / 180), Dimension.Angle, "12 deg")]
    [InlineData(1e30, Dimension.Length, "1e30 m")]
    public void Format_Value_IsShortAndPlain(double value, Dimension dimension, string expected) =>
        Assert.Equal(expected, UnitText.Format(value, dimension));

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    public void Format_NotFinite_Throws(double value) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => UnitText.Format(value, Dimension.Length));

    [Fact]
    public void FormatThenParse_AnyFiniteValueOfAnyDimension_IsTheSameDouble()
    {
        Dimension[] all = Enum.GetValues<Dimension>();
        Gen.Select(Gen.Double, Gen.Int[0, all.Length - 1])
            .Where((value, _) => double.IsFinite(value))
            .Sample(
                (value, index) => UnitText.Parse(UnitText.Format(value, all[index]), all[index]) == value,
                iter: 20_000
            );
    }

    [Fact]
    public void FormatThenParse_OrdinaryAngles_StayInDegrees()
    {
        for (int tenths = -900; tenths <= 900; tenths++)
        {
            double radians = UnitText.Parse($"{tenths / 10}.{Math.Abs(tenths % 10)} deg", Dimension.Angle);
            string text = UnitText.Format(radians, Dimension.Angle);
            Assert.EndsWith(" deg", text, StringComparison.Ordinal);
            Assert.Equal(radians, UnitText.Parse(text, Dimension.Angle));
        }
    }
}
