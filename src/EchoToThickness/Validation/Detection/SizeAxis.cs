using System.Globalization;
using EchoToThickness.Statistics;

namespace EchoToThickness.Validation.Detection;

/// <summary>Sizes and signals on their axis.</summary>
internal static class SizeAxis
{
    public static double[] Of(ReadOnlySpan<double> sizes, SizeScale scale)
    {
        var axis = new double[sizes.Length];
        for (int i = 0; i < axis.Length; i++)
        {
            axis[i] = Of(sizes[i], scale);
            if (!double.IsFinite(axis[i]))
                throw new StatisticsException(
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"The value {sizes[i]} cannot stand on a {(scale == SizeScale.Logarithmic ? "logarithmic" : "linear")} axis."
                    ),
                    $"look {i}",
                    "give finite values, above 0 on a logarithmic axis."
                );
        }
        return axis;
    }

    public static double Of(double size, SizeScale scale) => scale == SizeScale.Logarithmic ? Math.Log(size) : size;

    public static double Back(double axis, SizeScale scale) => scale == SizeScale.Logarithmic ? Math.Exp(axis) : axis;
}
