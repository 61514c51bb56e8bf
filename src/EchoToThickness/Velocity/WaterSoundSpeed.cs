namespace EchoToThickness.Velocity;

/// <summary>
/// Speed of sound in pure water at one atmosphere, <c>c(T) = Σ kᵢ Tⁱ</c>, T in degrees Celsius, 0 to 100. The equations agree with
/// each other to 0.04 m/s. Air, salt, inhibitors and pressure are not in them.
/// </summary>
public static class WaterSoundSpeed
{
    private static readonly double[] BilaniukWong148 =
    [
        1402.38744,
        5.03836171,
        -5.81172916e-2,
        3.34638117e-4,
        -1.48259672e-6,
        3.16585020e-9,
    ];

    private static readonly double[] BilaniukWong112 =
    [
        1402.38742,
        5.03821344,
        -5.80539349e-2,
        3.32000870e-4,
        -1.44537900e-6,
        2.99402365e-9,
    ];

    private static readonly double[] BilaniukWong36 =
    [
        1402.38677,
        5.03798765,
        -5.80980033e-2,
        3.34296650e-4,
        -1.47936902e-6,
        3.14893508e-9,
    ];

    // The T² coefficient also circulates as -5.779136e-2, a digit error worth 1.1 m/s at 74 degC.
    private static readonly double[] Marczak =
    [
        1402.385,
        5.038813,
        -5.799136e-2,
        3.287156e-4,
        -1.398845e-6,
        2.787860e-9,
    ];

    private static readonly double[] DelGrossoMader =
    [
        1402.38754,
        5.03711129,
        -5.80852166e-2,
        3.34198834e-4,
        -1.47800417e-6,
        3.14643091e-9,
    ];

    /// <summary>Speed of sound, metres per second.</summary>
    /// <param name="temperatureCelsius">0 to 100.</param>
    /// <param name="equation">Polynomial to use.</param>
    /// <exception cref="ArgumentOutOfRangeException">Outside 0 to 100 degC, where the polynomials were not fitted.</exception>
    public static double MetresPerSecond(
        double temperatureCelsius,
        WaterEquation equation = WaterEquation.BilaniukWong148
    ) => Horner(Coefficients(equation), Checked(temperatureCelsius));

    /// <summary>Change of the speed of sound with temperature, metres per second and kelvin.</summary>
    /// <param name="temperatureCelsius">0 to 100.</param>
    /// <param name="equation">Polynomial to use.</param>
    /// <exception cref="ArgumentOutOfRangeException">Outside 0 to 100 degC.</exception>
    public static double SlopeMetresPerSecondKelvin(
        double temperatureCelsius,
        WaterEquation equation = WaterEquation.BilaniukWong148
    )
    {
        double[] k = Coefficients(equation);
        double sum = 0;
        for (int i = k.Length - 1; i >= 1; i--)
            sum = sum * Checked(temperatureCelsius) + i * k[i];
        return sum;
    }

    private static double[] Coefficients(WaterEquation equation) =>
        equation switch
        {
            WaterEquation.BilaniukWong148 => BilaniukWong148,
            WaterEquation.BilaniukWong112 => BilaniukWong112,
            WaterEquation.BilaniukWong36 => BilaniukWong36,
            WaterEquation.Marczak => Marczak,
            WaterEquation.DelGrossoMader => DelGrossoMader,
            _ => throw new ArgumentOutOfRangeException(nameof(equation), equation, "Not an equation."),
        };

    private static double Checked(double temperatureCelsius) =>
        temperatureCelsius is >= 0 and <= 100
            ? temperatureCelsius
            : throw new ArgumentOutOfRangeException(
                nameof(temperatureCelsius),
                temperatureCelsius,
                "The equations hold from 0 to 100 degC."
            );

    private static double Horner(double[] coefficients, double x)
    {
        double sum = 0;
        for (int i = coefficients.Length - 1; i >= 0; i--)
            sum = sum * x + coefficients[i];
        return sum;
    }
}
