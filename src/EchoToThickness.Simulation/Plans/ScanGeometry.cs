using EchoToThickness.Procedures;
using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Stacks;
using EchoToThickness.Units;

namespace EchoToThickness.Simulation.Plans;

/// <summary>
/// Where every cell of a scan lies on the component: lines along or around, the beams of the array across them. Immutable.
/// </summary>
/// <remarks>
/// On an elbow a line at girth angle φ is <c>θ (R + r cos φ)</c> long; an encoder that runs on the line counts that length, so lines at the
/// intrados have fewer scan positions than at the extrados. All beams of an array that lies around stand on the same bend angle θ (the array
/// is held square to the line); beams of an array that lies along keep their true distance on the surface at its centre's φ.
/// </remarks>
public sealed class ScanGeometry
{
    private readonly LinePlan[] _lines;
    private readonly double[] _beamOffsetMetres;
    private readonly double[][] _scanPositions;
    private readonly double _alongReferenceMetres;
    private readonly int _samples;

    private ScanGeometry(
        ComponentShape shape,
        ScanDirection direction,
        LinePlan[] lines,
        double[] beamOffsetMetres,
        double pitchMetres,
        double alongReferenceMetres,
        int samples
    )
    {
        Shape = shape;
        Direction = direction;
        _lines = lines;
        _beamOffsetMetres = beamOffsetMetres;
        _alongReferenceMetres = alongReferenceMetres;
        _samples = samples;
        _scanPositions =
        [
            .. lines.Select(line =>
                Enumerable.Range(0, line.Scans).Select(k => (line.FirstStep + k) * pitchMetres).ToArray()
            ),
        ];
    }

    /// <summary>The component.</summary>
    public ComponentShape Shape { get; }

    /// <summary>Lines along or around.</summary>
    public ScanDirection Direction { get; }

    /// <summary>Number of lines.</summary>
    public int Lines => _lines.Length;

    /// <summary>Beams of the array: elements less active aperture plus one.</summary>
    public int Beams => _beamOffsetMetres.Length;

    /// <summary>Lays the plan out.</summary>
    /// <param name="scene">The scene.</param>
    /// <exception cref="ProcedureException">The plan does not fit the component; names the key.</exception>
    public static ScanGeometry Compile(Scene scene)
    {
        ArgumentNullException.ThrowIfNull(scene);
        ComponentShape shape = ComponentShape.Of(scene.Component);
        return Compile(
            shape,
            scene.Scan,
            BeamsOf(scene.Array),
            scene.Array.PitchMetres,
            SceneTimeBase.Of(scene, shape).Samples
        );
    }

    /// <summary>Lays the plan out.</summary>
    /// <param name="shape">The component.</param>
    /// <param name="scan">Section of the scene.</param>
    /// <param name="beams">Beams of the array, at least 1.</param>
    /// <param name="beamPitchMetres">Distance of neighbouring beams on the surface, metres.</param>
    /// <param name="samples">Samples of one A-scan.</param>
    /// <exception cref="ProcedureException">The plan does not fit the component; names the key.</exception>
    public static ScanGeometry Compile(
        ComponentShape shape,
        ScanSection scan,
        int beams,
        double beamPitchMetres,
        int samples
    )
    {
        ArgumentNullException.ThrowIfNull(shape);
        ArgumentNullException.ThrowIfNull(scan);
        ArgumentOutOfRangeException.ThrowIfLessThan(beams, 1);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(beamPitchMetres);
        double[] offsets = [.. Enumerable.Range(0, beams).Select(b => (b - (beams - 1) / 2.0) * beamPitchMetres)];
        double reference = scan.Start == ScanStart.MidBend ? shape.LengthMetres / 2 : shape.StartMetres;
        LinePlan[] lines = new LineLayout(shape, scan, beams * beamPitchMetres, reference).Lines();
        return new ScanGeometry(shape, scan.Direction, lines, offsets, scan.PitchMetres, reference, samples);
    }

    /// <summary>Extent of a line's stack; lines differ on an elbow.</summary>
    /// <param name="line">Line, counted from 0.</param>
    public StackShape ShapeOf(int line) => new(_lines[line].Scans, Beams, _samples);

    /// <summary>Name of a line; ordinal order of names is the order of lines.</summary>
    /// <param name="line">Line, counted from 0.</param>
    public string LineName(int line)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(line);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(line, Lines);
        return string.Create(
            System.Globalization.CultureInfo.InvariantCulture,
            $"line-{(line + 1).ToString(Lines < 100 ? "00" : "0000", System.Globalization.CultureInfo.InvariantCulture)}"
        );
    }

    /// <summary>Centre of the array at the beginning of a line.</summary>
    /// <param name="line">Line, counted from 0.</param>
    public SurfacePoint StartOf(int line) => Centre(line, _scanPositions[line][0]);

    /// <summary>Encoder positions of a line as a sound encoder writes them, metres, ascending.</summary>
    /// <param name="line">Line, counted from 0.</param>
    public IReadOnlyList<double> ScanPositionsMetres(int line) => _scanPositions[line];

    /// <summary>Positions of a line's beams on the index axis, metres, ascending; around they go on beyond the girth.</summary>
    /// <param name="line">Line, counted from 0.</param>
    public IReadOnlyList<double> IndexPositionsMetres(int line) =>
        [.. _beamOffsetMetres.Select(offset => IndexOf(line, offset))];

    /// <summary>Where a cell lies.</summary>
    /// <param name="line">Line, counted from 0.</param>
    /// <param name="scan">Scan position, counted from 0.</param>
    /// <param name="beam">Beam, counted from 0.</param>
    public CellPlace PlaceOf(int line, int scan, int beam) => PlaceAt(line, _scanPositions[line][scan], beam);

    /// <summary>Where a beam stands when the array has truly travelled to an encoder position, on or between stored ones.</summary>
    /// <param name="line">Line, counted from 0.</param>
    /// <param name="scanMetres">True position in the encoder's own length, metres.</param>
    /// <param name="beam">Beam, counted from 0.</param>
    public CellPlace PlaceAt(int line, double scanMetres, int beam)
    {
        SurfacePoint centre = Centre(line, scanMetres);
        double offset = _beamOffsetMetres[beam];
        SurfacePoint point =
            Direction == ScanDirection.Along
                ? centre with
                {
                    AroundMetres = Shape.Wrap(centre.AroundMetres + offset),
                }
                : new SurfacePoint(
                    centre.AlongMetres + offset / Shape.Stretch(centre),
                    Shape.Wrap(centre.AroundMetres)
                );
        // Positions are sums of decimal lengths: a nanometre beyond the edge is on it.
        const double slack = 1e-9;
        bool onComponent =
            point.AlongMetres >= Shape.StartMetres - slack
            && point.AlongMetres <= Shape.EndMetres + slack
            && (Shape.IsClosed || (point.AroundMetres >= -slack && point.AroundMetres <= Shape.WidthMetres + slack));
        return new CellPlace(
            point,
            scanMetres,
            IndexOf(line, offset),
            Shape.OutsideRadiusMetres,
            Shape.AlongRadiusMetres(point),
            onComponent
        );
    }

    /// <summary>Beams of an array.</summary>
    /// <param name="array">Section of the scene.</param>
    /// <exception cref="ProcedureException">The aperture has more elements than the array.</exception>
    public static int BeamsOf(ArraySection array)
    {
        ArgumentNullException.ThrowIfNull(array);
        if (array.ApertureElements > array.Elements)
            throw new ProcedureException([
                new ProcedureFinding(
                    "array.aperture_elements",
                    $"An aperture of {array.ApertureElements} elements is larger than the array of {array.Elements}.",
                    $"write at most {array.Elements}."
                ),
            ]);
        return array.Elements - array.ApertureElements + 1;
    }

    private SurfacePoint Centre(int line, double scanMetres)
    {
        LinePlan plan = _lines[line];
        return Direction == ScanDirection.Along
            ? new SurfacePoint(
                Shape.AlongAtLineLength(plan.OriginMetres + scanMetres, plan.EncoderStretch),
                plan.PlaceMetres
            )
            : new SurfacePoint(plan.PlaceMetres, scanMetres);
    }

    private double IndexOf(int line, double offset) =>
        Direction == ScanDirection.Along
            ? _lines[line].PlaceMetres + offset
            : _lines[line].PlaceMetres - _alongReferenceMetres + offset;
}
