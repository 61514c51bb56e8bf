using EchoToThickness.Simulation.Plans;
using EchoToThickness.Simulation.Random;
using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Simulation.Instruments;

/// <summary>
/// The layer between array and outer surface over the whole scan: how thick it is under each beam, how far it is askew, and which part of
/// each aperture it covers. Immutable; deterministic by the scene's seed.
/// </summary>
/// <remarks>
/// <para>Thickness = mean + drift (linear over the line) + waviness (one sine along, one around; a period of 0 leaves its direction out)
/// + jitter (Gaussian, one number a scan position) + tilt times the distance from the middle of the array + lift-off steps; never below
/// zero.</para>
/// <para>Bubbles: a Poisson process of discs on the surface with diameters spread evenly from a half to one and a half of the mean. They
/// lie still on the surface: where two lines overlap they see the same bubble. Distances are true lengths on the outer surface; the
/// density counts in the unrolled plane, on an elbow that of the centre line. A bubble or dry patch takes its part of the aperture out,
/// found on 16 × 16 points of it.</para>
/// </remarks>
public sealed class CouplingField
{
    private const int Points = 16;
    private readonly CouplingSection _settings;
    private readonly ComponentShape _shape;
    private readonly BubbleCloud[] _clouds;
    private readonly SurfaceRectangle[] _dry;
    private readonly (SurfaceRectangle Area, double StepMetres)[] _steps;
    private readonly double _halfAlongMetres;
    private readonly double _halfAroundMetres;
    private readonly double _pitchMetres;
    private readonly int _beams;
    private readonly bool _arrayLiesAround;
    private readonly ulong _seed;

    private CouplingField(Scene scene, ComponentShape shape, int beams)
    {
        _settings = scene.Coupling;
        _shape = shape;
        _beams = beams;
        _seed = (ulong)(scene.Header.NoiseSeed ?? scene.Header.Seed);
        _pitchMetres = scene.Array.PitchMetres;
        _arrayLiesAround = scene.Scan.Direction == ScanDirection.Along;
        double across = scene.Array.ApertureElements * scene.Array.PitchMetres / 2;
        double elevation = scene.Array.ElevationMetres / 2;
        (_halfAlongMetres, _halfAroundMetres) = _arrayLiesAround ? (elevation, across) : (across, elevation);
        _dry = [.. _settings.Dry.Select(d => SurfaceRectangle.Of(shape, d.Along, d.Around, d.Length, d.Width))];
        _steps =
        [
            .. _settings.LiftOffs.Select(s =>
                (SurfaceRectangle.Of(shape, s.Along, s.Around, s.Length, s.Width), s.StepMetres)
            ),
        ];
        _clouds = [.. _settings.Bubbles.Select((b, i) => new BubbleCloud(b, shape, _seed, i))];
    }

    /// <summary>Works out the coupling of a scene.</summary>
    /// <param name="scene">The scene.</param>
    /// <param name="shape">Its component.</param>
    /// <param name="beams">Beams of every line.</param>
    public static CouplingField Compile(Scene scene, ComponentShape shape, int beams)
    {
        ArgumentNullException.ThrowIfNull(scene);
        ArgumentNullException.ThrowIfNull(shape);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(beams);
        return new CouplingField(scene, shape, beams);
    }

    /// <summary>Tilt of the array to the surface along the component, radians.</summary>
    public double TiltAlongRadians => _arrayLiesAround ? _settings.TiltAlongRadians : _settings.TiltAcrossRadians;

    /// <summary>Tilt of the array to the surface around the component, radians.</summary>
    public double TiltAroundRadians => _arrayLiesAround ? _settings.TiltAcrossRadians : _settings.TiltAlongRadians;

    /// <summary>Thickness of the couplant under the middle of one beam's aperture.</summary>
    /// <param name="line">Line as it was acquired, counted from 0.</param>
    /// <param name="scan">Scan position as it was acquired (not as placed): jitter belongs to the instant.</param>
    /// <param name="beam">Beam.</param>
    /// <param name="lineFraction">Part of the line before this scan position, 0 to 1.</param>
    /// <param name="point">True place of the cell.</param>
    /// <returns>Metres, not negative.</returns>
    public double ThicknessMetres(int line, int scan, int beam, double lineFraction, SurfacePoint point)
    {
        double thickness =
            _settings.ThicknessMetres
            + _settings.DriftMetres * lineFraction
            + Math.Tan(_settings.TiltAcrossRadians) * (beam - (_beams - 1) / 2.0) * _pitchMetres
            + LiftOffMetres(point);
        if (_settings.WavinessMetres > 0)
        {
            thickness +=
                _settings.WavinessMetres
                * Wave(point.AlongMetres * _shape.Stretch(point), _settings.WavePeriodAlongMetres)
                * Wave(point.AroundMetres, _settings.WavePeriodAroundMetres);
        }
        if (_settings.JitterMetres > 0)
        {
            ulong stream = Streams.Of(RandomStream.CouplantJitter, line, scan, 0);
            thickness += _settings.JitterMetres * NormalNoise.First(_seed, stream);
        }
        return Math.Max(thickness, 0);
    }

    /// <summary>The part of the thickness that lift-off steps add at a place, metres.</summary>
    /// <param name="point">The place.</param>
    public double LiftOffMetres(SurfacePoint point)
    {
        double step = 0;
        if (_settings.IntradosLiftOffMetres > 0 && double.IsFinite(_shape.BendRadiusMetres))
        {
            double angle = Math.IEEERemainder(point.AroundMetres / _shape.OutsideRadiusMetres - Math.PI, 2 * Math.PI);
            if (Math.Abs(angle) <= _settings.IntradosHalfWidthRadians)
                step += _settings.IntradosLiftOffMetres;
        }
        foreach ((SurfaceRectangle area, double metres) in _steps)
        {
            if (area.Contains(point))
                step += metres;
        }
        return step;
    }

    /// <summary>How much of an aperture is coupled.</summary>
    /// <param name="point">Its middle.</param>
    /// <param name="labels">Takes <see cref="PlantedFailure.Bubble"/> and <see cref="PlantedFailure.DryCoupling"/> where they cover part of it.</param>
    /// <returns>1 sound, 0 dry.</returns>
    public double CoupledFraction(SurfacePoint point, out PlantedFailure labels)
    {
        labels = PlantedFailure.None;
        if (_clouds.Length == 0 && _dry.Length == 0)
            return 1;
        double stretch = _shape.Stretch(point);
        Span<Disc> discs = stackalloc Disc[64];
        int found = 0;
        foreach (BubbleCloud cloud in _clouds)
            found += cloud.Near(point, _halfAlongMetres / stretch, _halfAroundMetres, discs[found..]);
        bool dry = false;
        foreach (SurfaceRectangle area in _dry)
            dry |= area.Touches(point, _halfAlongMetres / stretch, _halfAroundMetres);
        if (found == 0 && !dry)
            return 1;
        int lost = 0;
        for (int a = 0; a < Points; a++)
        {
            double along = point.AlongMetres + ((2 * a + 1.0) / Points - 1) * _halfAlongMetres / stretch;
            for (int c = 0; c < Points; c++)
            {
                SurfacePoint at = new(along, point.AroundMetres + ((2 * c + 1.0) / Points - 1) * _halfAroundMetres);
                PlantedFailure here = LostAt(at, discs[..found], stretch);
                labels |= here;
                lost += here == PlantedFailure.None ? 0 : 1;
            }
        }
        return 1 - lost / (double)(Points * Points);
    }

    private PlantedFailure LostAt(SurfacePoint at, ReadOnlySpan<Disc> discs, double stretch)
    {
        foreach (SurfaceRectangle area in _dry)
        {
            if (area.Contains(at))
                return PlantedFailure.DryCoupling;
        }
        foreach (Disc disc in discs)
        {
            double along = (at.AlongMetres - disc.AlongMetres) * stretch;
            double around = at.AroundMetres - disc.AroundMetres;
            if (along * along + around * around <= disc.RadiusMetres * disc.RadiusMetres)
                return PlantedFailure.Bubble;
        }
        return PlantedFailure.None;
    }

    private static double Wave(double metres, double periodMetres) =>
        periodMetres > 0 ? Math.Sin(2 * Math.PI * metres / periodMetres) : 1;
}
