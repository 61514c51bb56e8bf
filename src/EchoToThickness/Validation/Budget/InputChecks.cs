using System.Globalization;
using EchoToThickness.Statistics;

namespace EchoToThickness.Validation.Budget;

/// <summary>Checks of inputs and their correlations.</summary>
internal static class InputChecks
{
    public static void Check(IReadOnlyList<UncertaintyInput> inputs, double[,]? correlation)
    {
        foreach (UncertaintyInput input in inputs)
            if (
                !double.IsFinite(input.Value)
                || !(input.StandardUncertainty >= 0 && double.IsFinite(input.StandardUncertainty))
                || !(input.DegreesOfFreedom > 0)
                || !(input.TopRatio is >= 0 and <= 1)
            )
                throw new StatisticsException(
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"Value {input.Value}, standard uncertainty {input.StandardUncertainty}, degrees of freedom {input.DegreesOfFreedom}."
                    ),
                    $"input {input.Name}",
                    "give a finite value, an uncertainty of 0 or more, and degrees of freedom above 0."
                );
        if (correlation == null)
            return;
        int n = inputs.Count;
        if (correlation.GetLength(0) != n || correlation.GetLength(1) != n)
            throw new StatisticsException(
                "The correlations do not fit the inputs.",
                "correlation",
                $"give {n} x {n} coefficients."
            );
        for (int i = 0; i < n; i++)
        for (int j = 0; j < n; j++)
            if (
                !(Math.Abs(correlation[i, j]) <= 1)
                || correlation[i, j] != correlation[j, i]
                || (i == j && correlation[i, j] != 1)
            )
                throw new StatisticsException(
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"The coefficient is {correlation[i, j]}, its mirror {correlation[j, i]}."
                    ),
                    $"correlation of {inputs[i].Name} and {inputs[j].Name}",
                    "give a symmetric matrix with ones on its diagonal and coefficients from -1 to 1."
                );
    }
}
