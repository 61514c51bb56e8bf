namespace EchoToThickness.Simulation.Waves;

/// <summary>Fresnel integral <c>F(s) = C(s) + i S(s) = integral from 0 to s of exp(i pi u² / 2) du</c>.</summary>
/// <remarks>
/// Up to 8 by a table of step 1/256 with cubic Hermite interpolation (the derivative is known; error below 2e-8), beyond by the
/// asymptotic series (below 1e-9). Source: Abramowitz and Stegun, Handbook of Mathematical Functions, 7.3.
/// </remarks>
internal static class FresnelIntegral
{
    private const double Largest = 8;
    private const int StepsInOne = 256;
    private const int Nodes = (int)Largest * StepsInOne + 1;
    private static readonly double[] Table = Tabulate();

    /// <summary>Value at any real argument; odd.</summary>
    /// <param name="argument">Argument s.</param>
    /// <param name="cosine">C(s).</param>
    /// <param name="sine">S(s).</param>
    public static void At(double argument, out double cosine, out double sine)
    {
        double s = Math.Abs(argument);
        if (s < Largest - 1.0 / StepsInOne)
            Interpolate(s, out cosine, out sine);
        else
            Asymptotic(s, out cosine, out sine);
        if (argument < 0)
            (cosine, sine) = (-cosine, -sine);
    }

    private static void Interpolate(double s, out double cosine, out double sine)
    {
        double position = s * StepsInOne;
        int index = (int)position;
        double t = position - index;
        ReadOnlySpan<double> n = Table.AsSpan(4 * index, 8);
        double h00 = (1 + 2 * t) * (1 - t) * (1 - t);
        double h10 = t * (1 - t) * (1 - t) / StepsInOne;
        double h01 = t * t * (3 - 2 * t);
        double h11 = t * t * (t - 1) / StepsInOne;
        cosine = h00 * n[0] + h10 * n[2] + h01 * n[4] + h11 * n[6];
        sine = h00 * n[1] + h10 * n[3] + h01 * n[5] + h11 * n[7];
    }

    private static void Asymptotic(double s, out double cosine, out double sine)
    {
        // C = 1/2 + f sin - g cos, S = 1/2 - f cos - g sin of pi s²/2, with f = 1/(pi s) (1 - 3/(pi s²)²), g = 1/(pi² s³) (1 - 15/(pi s²)²).
        double ps2 = Math.PI * s * s;
        double small = 1 / (ps2 * ps2);
        double f = (1 - 3 * small) / (Math.PI * s);
        double g = (1 - 15 * small) / (ps2 * Math.PI * s);
        (double sin, double cos) = Math.SinCos(Math.PI / 2 * Math.IEEERemainder(s * s, 4));
        cosine = 0.5 + f * sin - g * cos;
        sine = 0.5 - f * cos - g * sin;
    }

    /// <summary>Per node: C, S and their derivatives; each step by the five-point Gauss rule.</summary>
    private static double[] Tabulate()
    {
        ReadOnlySpan<double> points =
        [
            0,
            0.5384693101056831,
            -0.5384693101056831,
            0.906179845938664,
            -0.906179845938664,
        ];
        ReadOnlySpan<double> weights =
        [
            0.5688888888888889,
            0.47862867049936647,
            0.47862867049936647,
            0.23692688505618908,
            0.23692688505618908,
        ];
        var table = new double[4 * Nodes];
        double cosine = 0;
        double sine = 0;
        for (int node = 0; node < Nodes; node++)
        {
            double s = (double)node / StepsInOne;
            (double sin, double cos) = Math.SinCos(Math.PI / 2 * s * s);
            (table[4 * node], table[4 * node + 1]) = (cosine, sine);
            (table[4 * node + 2], table[4 * node + 3]) = (cos, sin);
            for (int i = 0; i < points.Length; i++)
            {
                double u = s + (1 + points[i]) / (2 * StepsInOne);
                (sin, cos) = Math.SinCos(Math.PI / 2 * u * u);
                cosine += weights[i] * cos / (2 * StepsInOne);
                sine += weights[i] * sin / (2 * StepsInOne);
            }
        }
        return table;
    }
}
