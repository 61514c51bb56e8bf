using EchoToThickness.Procedures;
using EchoToThickness.Stacks;

namespace EchoToThickness.Velocity;

/// <summary>
/// Correlation delays of back-wall echoes 1 to N against the interface echo, tabulated over wall and couplant path, for use in
/// every cell. Immutable, shared by all threads.
/// </summary>
public sealed class DiffractionTable
{
    private const int CouplantNodes = 17;
    private const int WallNodes = 25;
    private readonly double[] _delays;
    private readonly double _wallStep;
    private readonly double _couplantStep;

    /// <summary>Computes the table.</summary>
    /// <param name="correction">Aperture, pulse and media.</param>
    /// <param name="orders">Highest back-wall echo, 1 or more.</param>
    /// <param name="minimumWallMetres">Thinnest wall.</param>
    /// <param name="maximumWallMetres">Thickest wall, above the thinnest.</param>
    /// <param name="minimumCouplantMetres">Shortest couplant path, one way; 0 for contact.</param>
    /// <param name="maximumCouplantMetres">Longest couplant path, one way, not below the shortest.</param>
    public DiffractionTable(
        DiffractionCorrection correction,
        int orders,
        double minimumWallMetres,
        double maximumWallMetres,
        double minimumCouplantMetres,
        double maximumCouplantMetres
    )
    {
        ArgumentNullException.ThrowIfNull(correction);
        ArgumentOutOfRangeException.ThrowIfLessThan(orders, 1);
        if (!(minimumWallMetres > 0) || !(maximumWallMetres > minimumWallMetres))
            throw new ArgumentOutOfRangeException(
                nameof(maximumWallMetres),
                maximumWallMetres,
                "The range of walls is empty."
            );
        if (!(minimumCouplantMetres >= 0) || !(maximumCouplantMetres >= minimumCouplantMetres))
            throw new ArgumentOutOfRangeException(
                nameof(maximumCouplantMetres),
                maximumCouplantMetres,
                "The range of couplant paths is empty."
            );
        Orders = orders;
        MinimumWallMetres = minimumWallMetres;
        MinimumCouplantMetres = minimumCouplantMetres;
        _wallStep = (maximumWallMetres - minimumWallMetres) / (WallNodes - 1);
        _couplantStep = (maximumCouplantMetres - minimumCouplantMetres) / (CouplantNodes - 1);
        _delays = new double[orders * CouplantNodes * WallNodes];
        for (int c = 0; c < CouplantNodes; c++)
        {
            double couplant = minimumCouplantMetres + c * _couplantStep;
            System.Numerics.Complex[] interfaceEcho = correction.InterfaceResponses(couplant);
            for (int order = 1; order <= orders; order++)
            for (int w = 0; w < WallNodes; w++)
                _delays[((order - 1) * CouplantNodes + c) * WallNodes + w] = correction.CorrelationDelaySeconds(
                    interfaceEcho,
                    order,
                    minimumWallMetres + w * _wallStep,
                    couplant
                );
        }
    }

    /// <summary>The table for a procedure on a stack, or null when <c>correction.diffraction</c> is off.</summary>
    /// <param name="procedure">A consistent procedure.</param>
    /// <param name="stack">The stack; gives aperture, frequency, bandwidth and couplant velocity.</param>
    /// <param name="velocity">Metres for seconds.</param>
    /// <param name="orders">Highest back-wall echo.</param>
    /// <exception cref="ProcedureException">The stack gives no aperture or no frequency.</exception>
    /// <remarks>
    /// Walls: those that the procedure looks for. Couplant paths: from start to end of the interface search, at most the record,
    /// at least 0. Couplant without a stated velocity is water at 20 degC; a strip unless procedure or stack gives the elevation.
    /// </remarks>
    public static DiffractionTable? For(Procedure procedure, StackInfo stack, ResolvedVelocity velocity, int orders)
    {
        ArgumentNullException.ThrowIfNull(procedure);
        ArgumentNullException.ThrowIfNull(stack);
        ArgumentNullException.ThrowIfNull(velocity);
        if (!procedure.Correction.Diffraction)
            return null;
        AcquisitionFacts facts = stack.Acquisition;
        if (
            (procedure.Correction.ApertureMetres ?? facts.ApertureMetres) is not { } aperture
            || (procedure.Train.FrequencyHz ?? facts.FrequencyHz) is not { } frequency
        )
            throw new ProcedureException(
                $"The diffraction correction needs the active aperture and the frequency; {stack.Name} does not give them.",
                "key correction.diffraction",
                "complete the stack or its layout map, or switch the correction off."
            );
        double couplant = facts.CouplantVelocityMetresPerSecond ?? WaterSoundSpeed.MetresPerSecond(20);
        double recordEnd = stack.TimeBase.StartSeconds + stack.Shape.Samples * stack.TimeBase.IntervalSeconds;
        double from = Math.Max(procedure.Interface.SearchStartSeconds ?? stack.TimeBase.StartSeconds, 0);
        double to = Math.Max(Math.Min(procedure.Interface.SearchEndSeconds ?? recordEnd, recordEnd), from);
        var correction = new DiffractionCorrection(
            new DiffractionSetup
            {
                ApertureMetres = aperture,
                ElevationMetres = procedure.Correction.ElevationMetres ?? facts.ElevationMetres,
                FrequencyHz = frequency,
                BandwidthFraction = facts.BandwidthFraction is > 0 and < 2 and { } b ? b : 0.6,
                VelocityMetresPerSecond = velocity.MetresPerSecond,
                CouplantMetresPerSecond = couplant,
            }
        );
        return new DiffractionTable(
            correction,
            orders,
            Math.Max(procedure.Wall.MinimumMetres, 1e-4),
            procedure.Wall.MaximumMetres,
            couplant * from / 2,
            couplant * to / 2
        );
    }

    /// <summary>Highest back-wall echo.</summary>
    public int Orders { get; }

    /// <summary>Thinnest wall.</summary>
    public double MinimumWallMetres { get; }

    /// <summary>Shortest couplant path.</summary>
    public double MinimumCouplantMetres { get; }

    /// <summary>Delay of a back-wall echo against the interface echo beyond the plane-wave delay; the edge value outside the table.</summary>
    /// <param name="order">0 gives 0; n for back-wall echo n, at most <see cref="Orders"/>.</param>
    /// <param name="wallMetres">Wall.</param>
    /// <param name="couplantPathMetres">Couplant path, one way.</param>
    /// <returns>Seconds to subtract from the echo's time after the interface; bilinear between nodes. No allocation.</returns>
    public double DelaySeconds(int order, double wallMetres, double couplantPathMetres)
    {
        if (order == 0)
            return 0;
        ArgumentOutOfRangeException.ThrowIfNegative(order);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(order, Orders);
        (int w, double wf) = Place((wallMetres - MinimumWallMetres) / _wallStep, WallNodes);
        (int c, double cf) = Place(
            _couplantStep > 0 ? (couplantPathMetres - MinimumCouplantMetres) / _couplantStep : 0,
            CouplantNodes
        );
        int first = ((order - 1) * CouplantNodes + c) * WallNodes + w;
        double near = _delays[first] + wf * (_delays[first + 1] - _delays[first]);
        int second = first + WallNodes;
        double far = _delays[second] + wf * (_delays[second + 1] - _delays[second]);
        return near + cf * (far - near);
    }

    private static (int Index, double Fraction) Place(double position, int nodes)
    {
        double clamped = Math.Clamp(double.IsNaN(position) ? 0 : position, 0, nodes - 1);
        int index = Math.Min((int)clamped, nodes - 2);
        return (index, clamped - index);
    }
}
