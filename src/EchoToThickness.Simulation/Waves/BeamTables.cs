using System.Collections.Concurrent;

namespace EchoToThickness.Simulation.Waves;

/// <summary>All tables of a model, by side, pattern of elements, curvature and tilt; grows on demand, shared by all threads.</summary>
internal sealed class BeamTables
{
    /// <summary>Tilts are rounded to this; 4 mm from the axis that is 0.7 µm of couplant.</summary>
    public const double TiltStepRadians = 1.75e-4;

    /// <summary>Curvatures are rounded to this, a metre; 4 mm from the axis that is 0.4 µm of stand-off.</summary>
    public const double CurvatureStep = 0.05;

    private readonly ConcurrentDictionary<Key, AxisTable> _tables = new();
    private readonly double[] _hertz;
    private readonly double _velocity;
    private readonly double _couplantVelocity;

    /// <summary>Prepares empty tables.</summary>
    /// <param name="hertz">Frequencies.</param>
    /// <param name="velocity">Velocity in the metal.</param>
    /// <param name="couplantVelocity">Velocity in the couplant.</param>
    public BeamTables(double[] hertz, double velocity, double couplantVelocity)
    {
        _hertz = hertz;
        _velocity = velocity;
        _couplantVelocity = couplantVelocity;
    }

    /// <summary>The table of one side.</summary>
    /// <param name="axis">The side.</param>
    /// <param name="tiltRadians">Tilt to the surface along this side.</param>
    /// <param name="curvature">Curvature of the surface under a flat array, 1/metre, positive where convex; 0 for an array that follows.</param>
    public AxisTable For(ApertureAxis axis, double tiltRadians, double curvature)
    {
        var key = new Key(
            axis,
            (int)Math.Round(tiltRadians / TiltStepRadians),
            (int)Math.Round(curvature / CurvatureStep)
        );
        if (_tables.TryGetValue(key, out AxisTable? table))
            return table;
        return _tables.GetOrAdd(
            key,
            new AxisTable(
                axis,
                Math.Sin(key.Tilt * TiltStepRadians) / _couplantVelocity,
                key.Curvature * CurvatureStep / (2 * _couplantVelocity),
                _hertz,
                _velocity
            )
        );
    }

    /// <summary>Sides are compared by identity: a model makes each only once.</summary>
    private readonly struct Key(ApertureAxis axis, int tilt, int curvature) : IEquatable<Key>
    {
        private readonly ApertureAxis _axis = axis;

        public int Tilt { get; } = tilt;

        public int Curvature { get; } = curvature;

        public bool Equals(Key other) =>
            ReferenceEquals(_axis, other._axis) && Tilt == other.Tilt && Curvature == other.Curvature;

        public override bool Equals(object? obj) => obj is Key other && Equals(other);

        public override int GetHashCode() =>
            HashCode.Combine(System.Runtime.CompilerServices.RuntimeHelpers.GetHashCode(_axis), Tilt, Curvature);
    }
}
