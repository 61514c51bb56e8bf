namespace EchoToThickness.Simulation.Waves;

/// <summary>One side of the aperture under one tilt and curvature, at distances in steps of 3 %; entries are made when first asked for.</summary>
internal sealed class AxisTable
{
    private const double NearestMetres = 20e-6;
    private const double FarthestMetres = 2;
    private const double LogStep = 0.03;
    private readonly ApertureAxis _axis;
    private readonly (double, double)[] _segments;
    private readonly double[] _hertz;
    private readonly double _velocity;
    private readonly AxisField?[] _fields = new AxisField?[
        (int)Math.Ceiling(Math.Log(FarthestMetres / NearestMetres) / LogStep) + 2
    ];

    /// <summary>Prepares an empty table.</summary>
    /// <param name="axis">The side.</param>
    /// <param name="delayPerMetre">Delay of the tilt, seconds a metre.</param>
    /// <param name="delayPerSquareMetre">Delay of the stand-off, seconds a square metre.</param>
    /// <param name="hertz">Frequencies.</param>
    /// <param name="velocity">Velocity in the metal.</param>
    public AxisTable(
        ApertureAxis axis,
        double delayPerMetre,
        double delayPerSquareMetre,
        double[] hertz,
        double velocity
    )
    {
        _axis = axis;
        _segments = axis.Segments(delayPerMetre, delayPerSquareMetre, hertz[^1]);
        _hertz = hertz;
        _velocity = velocity;
    }

    /// <summary>The entries on both sides of a distance.</summary>
    /// <param name="distanceMetres">One-way distance as metres of metal.</param>
    /// <param name="below">Entry at or below.</param>
    /// <param name="above">Next entry.</param>
    /// <returns>Weight of the upper one for linear interpolation, 0 to 1.</returns>
    public double Bracket(double distanceMetres, out AxisField below, out AxisField above)
    {
        double position = Math.Log(Math.Clamp(distanceMetres, NearestMetres, FarthestMetres) / NearestMetres) / LogStep;
        int index = Math.Min((int)position, _fields.Length - 2);
        below = Entry(index);
        above = Entry(index + 1);
        return position - index;
    }

    /// <summary>The entry next to a distance.</summary>
    /// <param name="distanceMetres">One-way distance as metres of metal.</param>
    public AxisField Nearest(double distanceMetres)
    {
        double weight = Bracket(distanceMetres, out AxisField below, out AxisField above);
        return weight < 0.5 ? below : above;
    }

    /// <summary>Two threads may make the same entry at once; both are equal, one is kept.</summary>
    private AxisField Entry(int index) =>
        Volatile.Read(ref _fields[index])
        ?? Interlocked.CompareExchange(ref _fields[index], Make(index), null)
        ?? _fields[index]!;

    private AxisField Make(int index) =>
        new(_axis.WidthMetres, _segments, NearestMetres * Math.Exp(index * LogStep), _hertz, _velocity);
}
