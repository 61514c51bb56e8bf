namespace EchoToThickness.Validation.Budget;

/// <summary>Derivatives of a measurement model by differences over parts of the input's uncertainty; inputs without one have none.</summary>
internal sealed class ModelDifferences(Func<double[], double> model, double[] at, double[] uncertainty)
{
    private readonly double _centre = model((double[])at.Clone());

    /// <summary>First derivative: central differences over u/4 and u/2 with Richardson's extrapolation, exact for polynomials of degree 4.</summary>
    public double First(int i)
    {
        double h = Step(i);
        double fine = (At(i, h) - At(i, -h)) / (2 * h);
        double wide = (At(i, 2 * h) - At(i, -2 * h)) / (4 * h);
        return (4 * fine - wide) / 3;
    }

    /// <summary>Second derivative, mixed or pure.</summary>
    public double Second(int i, int j)
    {
        double h = 2 * Step(i);
        double g = 2 * Step(j);
        return i == j
            ? (At(i, h) - 2 * _centre + At(i, -h)) / (h * h)
            : (At(i, h, j, g) - At(i, h, j, -g) - At(i, -h, j, g) + At(i, -h, j, -g)) / (4 * h * g);
    }

    /// <summary>Third derivative, once by i and twice by j.</summary>
    public double Third(int i, int j)
    {
        double h = 2 * Step(i);
        double g = 2 * Step(j);
        if (i == j)
            return (At(i, 2 * h) - 2 * At(i, h) + 2 * At(i, -h) - At(i, -2 * h)) / (2 * h * h * h);
        double up = At(i, h, j, g) - 2 * At(i, h) + At(i, h, j, -g);
        double down = At(i, -h, j, g) - 2 * At(i, -h) + At(i, -h, j, -g);
        return (up - down) / (2 * h * g * g);
    }

    private double Step(int i) => uncertainty[i] > 0 ? uncertainty[i] / 4 : Math.Max(Math.Abs(at[i]), 1e-300) * 1e-4;

    private double At(int i, double a, int j = -1, double b = 0)
    {
        double[] moved = (double[])at.Clone();
        moved[i] += a;
        if (j >= 0)
            moved[j] += b;
        return model(moved);
    }
}
