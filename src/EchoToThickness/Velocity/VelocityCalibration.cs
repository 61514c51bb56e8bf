using System.Globalization;
using EchoToThickness.Procedures;
using EchoToThickness.Units;
using MathNet.Numerics;

namespace EchoToThickness.Velocity;

/// <summary>Velocity and zero offset from round-trip times on steps of known thickness, <c>t = t₀ + 2 d / c</c>.</summary>
public sealed record VelocityCalibration
{
    /// <summary>Velocity c, metres per second.</summary>
    public required double MetresPerSecond { get; init; }

    /// <summary>Zero offset t₀, seconds.</summary>
    public required double ZeroSeconds { get; init; }

    /// <summary>Standard uncertainty of the velocity, metres per second; widened by <see cref="Widening"/>.</summary>
    public required double UncertaintyMetresPerSecond { get; init; }

    /// <summary>Standard uncertainty of the zero offset, seconds; widened by <see cref="Widening"/>.</summary>
    public required double ZeroUncertaintySeconds { get; init; }

    /// <summary>Covariance of velocity and zero, metres (m/s times s). Positive: a late zero goes with a high velocity.</summary>
    public required double VelocityZeroCovariance { get; init; }

    /// <summary>Shape [point]: measured minus fitted time, seconds.</summary>
    public required IReadOnlyList<double> ResidualsSeconds { get; init; }

    /// <summary>Weighted sum of squared residuals.</summary>
    public required double ChiSquare { get; init; }

    /// <summary>Points minus fitted quantities.</summary>
    public required int DegreesOfFreedom { get; init; }

    /// <summary>Probability of a chi-square this large or larger by chance; 1 without degrees of freedom.</summary>
    public double ChiSquareProbability =>
        DegreesOfFreedom == 0 ? 1 : SpecialFunctions.GammaUpperRegularized(DegreesOfFreedom / 2.0, ChiSquare / 2);

    /// <summary>Factor on the stated uncertainties, <c>max(1, sqrt(χ² / degrees of freedom))</c> (Birge ratio).</summary>
    public required double Widening { get; init; }

    /// <summary>Thinnest step, metres.</summary>
    public required double ThinnestMetres { get; init; }

    /// <summary>Thickest step, metres.</summary>
    public required double ThickestMetres { get; init; }

    /// <summary>Thickness of a round-trip time, <c>c (t - t₀) / 2</c>, metres.</summary>
    /// <param name="roundTripSeconds">Round-trip time.</param>
    public double ThicknessMetres(double roundTripSeconds) => MetresPerSecond * (roundTripSeconds - ZeroSeconds) / 2;

    /// <summary>Standard uncertainty of the thickness from velocity and zero, with their covariance, metres.</summary>
    /// <param name="thicknessMetres">Thickness.</param>
    public double ThicknessUncertaintyMetres(double thicknessMetres)
    {
        double perVelocity = thicknessMetres / MetresPerSecond;
        double perZero = -MetresPerSecond / 2;
        double variance =
            Square(perVelocity * UncertaintyMetresPerSecond)
            + Square(perZero * ZeroUncertaintySeconds)
            + 2 * perVelocity * perZero * VelocityZeroCovariance;
        return Math.Sqrt(Math.Max(variance, 0));
    }

    /// <summary>Fits velocity and zero to two points (exactly) or more (weighted, errors in both coordinates).</summary>
    /// <param name="points">At least two steps of different thickness.</param>
    /// <exception cref="ProcedureException">
    /// Fewer than two points, equal thicknesses, a point without uncertainty, or a velocity that no metal has.
    /// </exception>
    public static VelocityCalibration Fit(IReadOnlyList<CalibrationPoint> points)
    {
        ArgumentNullException.ThrowIfNull(points);
        if (points.Count < 2)
            throw Unusable(
                $"{points.Count} calibration point{(points.Count == 1 ? "" : "s")} cannot give velocity and zero.",
                "measure a second step of another thickness."
            );
        double[] d = points.Select(p => p.ThicknessMetres).ToArray();
        if (d.Max() - d.Min() <= 1e-9)
            throw Unusable(
                "All calibration steps have the same thickness.",
                "measure a second step of another thickness."
            );
        StraightLine line;
        double[] t = points.Select(p => p.TimeSeconds).ToArray();
        try
        {
            line = StraightLine.Fit(
                d,
                points.Select(p => p.ThicknessUncertaintyMetres).ToArray(),
                t,
                points.Select(p => p.TimeUncertaintySeconds).ToArray()
            );
        }
        catch (ArgumentException e)
        {
            throw new ProcedureException(
                "The calibration points cannot be weighted: " + e.Message,
                "key velocity.calibration",
                "give every point a time_uncertainty or thickness_uncertainty above zero.",
                e
            );
        }
        // c = 2 / b: dc/db = -2 / b².
        double velocity = 2 / line.Slope;
        Plausible(velocity);
        double perSlope = -2 / (line.Slope * line.Slope);
        int freedom = points.Count - 2;
        double widening = freedom > 0 ? Math.Max(1, Math.Sqrt(line.ChiSquare / freedom)) : 1;
        return new VelocityCalibration
        {
            MetresPerSecond = velocity,
            ZeroSeconds = line.Intercept,
            UncertaintyMetresPerSecond = widening * Math.Abs(perSlope) * line.SlopeUncertainty,
            ZeroUncertaintySeconds = widening * line.InterceptUncertainty,
            VelocityZeroCovariance = widening * widening * perSlope * line.Covariance,
            ResidualsSeconds = d.Select((x, i) => t[i] - line.Intercept - line.Slope * x).ToArray(),
            ChiSquare = freedom > 0 ? line.ChiSquare : 0,
            DegreesOfFreedom = freedom,
            Widening = widening,
            ThinnestMetres = d.Min(),
            ThickestMetres = d.Max(),
        };
    }

    /// <summary>Velocity from one step with a zero offset that is known from elsewhere, <c>c = 2 d / (t - t₀)</c>.</summary>
    /// <param name="point">The step.</param>
    /// <param name="zeroSeconds">Zero offset.</param>
    /// <param name="zeroUncertaintySeconds">Its standard uncertainty; enters the velocity and is correlated with it.</param>
    /// <exception cref="ProcedureException">A time that is not longer than the zero, or a velocity that no metal has.</exception>
    public static VelocityCalibration FromOneStep(
        CalibrationPoint point,
        double zeroSeconds,
        double zeroUncertaintySeconds
    )
    {
        ArgumentNullException.ThrowIfNull(point);
        double time = point.TimeSeconds - zeroSeconds;
        if (!(time > 0) || !(point.ThicknessMetres > 0))
            throw Unusable(
                "The calibration step's time is not longer than the zero offset.",
                "correct time, thickness or correction.zero."
            );
        double velocity = 2 * point.ThicknessMetres / time;
        Plausible(velocity);
        double perZero = velocity / time;
        double variance =
            Square(2 / time * point.ThicknessUncertaintyMetres)
            + Square(perZero * point.TimeUncertaintySeconds)
            + Square(perZero * zeroUncertaintySeconds);
        return new VelocityCalibration
        {
            MetresPerSecond = velocity,
            ZeroSeconds = zeroSeconds,
            UncertaintyMetresPerSecond = Math.Sqrt(variance),
            ZeroUncertaintySeconds = zeroUncertaintySeconds,
            VelocityZeroCovariance = perZero * Square(zeroUncertaintySeconds),
            ResidualsSeconds = [0],
            ChiSquare = 0,
            DegreesOfFreedom = 0,
            Widening = 1,
            ThinnestMetres = point.ThicknessMetres,
            ThickestMetres = point.ThicknessMetres,
        };
    }

    private static void Plausible(double velocity)
    {
        if (velocity is not (>= 500 and <= 20000))
            throw Unusable(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"The calibration points give {velocity:0.#} m/s; metals have 500 to 20000 m/s."
                ),
                $"check that times are round-trip times in order of thickness, such as \"{UnitText.Format(3.378e-6, Dimension.Time)}\" for 10 mm of steel."
            );
    }

    private static ProcedureException Unusable(string what, string remedy) =>
        new(what, "key velocity.calibration", remedy);

    private static double Square(double value) => value * value;
}
