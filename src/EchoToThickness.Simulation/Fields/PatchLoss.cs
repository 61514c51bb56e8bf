using System.Numerics.Tensors;
using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Simulation.Fields;

/// <summary>
/// A large smooth corroded area: <c>d exp(-ln 2 ρ^p)</c>, ρ² = (2x/L)² + (2y/W)²: half of the depth on the ellipse of length L and width W,
/// p = 2 a Gaussian. Cut off where a millionth of the depth is left. Adds to other losses.
/// </summary>
internal sealed class PatchLoss : WallFeature
{
    /// <summary>ln 2 ρ^p = 6 ln 10: a millionth is left.</summary>
    private static readonly double Reach = 6 * Math.Log(10) / Math.Log(2);

    private readonly double _inverseX;
    private readonly double _inverseY;
    private readonly double _depth;
    private readonly double _power;
    private readonly double _half;

    public PatchLoss(
        ComponentShape shape,
        SurfacePoint centre,
        double angleRadians,
        double lengthMetres,
        double widthMetres,
        double depthMetres,
        double power
    )
        : base(
            shape,
            centre,
            angleRadians,
            lengthMetres / 2 * Math.Pow(Reach, 1 / power),
            widthMetres / 2 * Math.Pow(Reach, 1 / power)
        )
    {
        (_inverseX, _inverseY) = (2 / lengthMetres, 2 / widthMetres);
        (_depth, _power) = (depthMetres, power);
        _half = Math.Min(lengthMetres, widthMetres) / 2;
    }

    public double DepthMetres => _depth;

    protected override void Row(double u, double v, double stepV, Span<double> row)
    {
        const int most = 256;
        Span<double> scratch = stackalloc double[Math.Min(most, row.Length)];
        for (int start = 0; start < row.Length; start += most)
        {
            Span<double> part = row[start..Math.Min(row.Length, start + most)];
            Span<double> work = scratch[..part.Length];
            for (int j = 0; j < part.Length; j++)
            {
                double at = v + (start + j) * stepV;
                double x = (u * Cosine + at * Sine) * _inverseX;
                double y = (at * Cosine - u * Sine) * _inverseY;
                work[j] = x * x + y * y;
            }
            if (_power != 2)
            {
                // ρ^p = exp(p/2 ln ρ²); ρ = 0 gives exp(-inf) = 0, as it should.
                TensorPrimitives.Log(work, work);
                TensorPrimitives.Multiply(work, _power / 2, work);
                TensorPrimitives.Exp(work, work);
            }
            TensorPrimitives.Multiply(work, -Math.Log(2), work);
            TensorPrimitives.Exp(work, work);
            TensorPrimitives.MultiplyAdd(work, _depth, part, part);
        }
    }

    protected override bool IsFlat(double x, double y, double radiusMetres, double toleranceMetres)
    {
        if (_depth <= toleranceMetres || IsOutside(x, y, radiusMetres))
            return true;
        // Steepest slope of exp(-ln 2 ρ^p) is below p ln 2 at every ρ for p >= 1; ρ changes by radius / half.
        if (_depth * _power * Math.Log(2) * radiusMetres / _half <= toleranceMetres)
            return true;
        // Monotone in ρ: the extremes lie where the disc is nearest to and farthest from the centre.
        double rho = Math.Sqrt(x * _inverseX * x * _inverseX + y * _inverseY * y * _inverseY);
        double near = Value(Math.Max(0, rho - radiusMetres / _half));
        double far = Value(rho + radiusMetres / _half);
        return near - far <= 2 * toleranceMetres;
    }

    private double Value(double rho) => _depth * Math.Exp(-Math.Log(2) * Math.Pow(rho, _power));
}
