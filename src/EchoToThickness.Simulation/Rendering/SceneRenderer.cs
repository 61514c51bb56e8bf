using EchoToThickness.Simulation.Fields;
using EchoToThickness.Simulation.Instruments;
using EchoToThickness.Simulation.Plans;
using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Simulation.Waves;
using EchoToThickness.Stacks;

namespace EchoToThickness.Simulation.Rendering;

/// <summary>
/// Computes cells of a scene: where they lie, what is under them, their echoes, and what the instrument makes of them. One a thread; no
/// allocation per cell. A cell depends on the scene and its own place only, never on the cells before it.
/// </summary>
public sealed class SceneRenderer
{
    /// <summary>Tails below this are below the last bit of any digitiser here.</summary>
    private const double NoRingDownDecibels = -120;

    private readonly SceneModel _model;
    private readonly CellView _cell = new();
    private readonly WaveWorkspace _workspace;
    private readonly float[] _samples;
    private readonly FootprintPatch _patch;
    private readonly double _apertureAlongMetres;
    private readonly double _apertureAroundMetres;
    private readonly double _ringDownFraction;
    private readonly bool _linesAlong;

    internal SceneRenderer(SceneModel model)
    {
        _model = model;
        _workspace = model.Waves.CreateWorkspace();
        _samples = new float[model.Time.Samples];
        double ringDown = model.Scene.Instrument.RingDownDecibels;
        _ringDownFraction = ringDown > NoRingDownDecibels ? Math.Pow(10, ringDown / 20) : 0;
        ArraySection array = model.Scene.Array;
        double aperture = array.ApertureElements * array.PitchMetres;
        _linesAlong = model.Scene.Scan.Direction == ScanDirection.Along;
        FootprintPatch patch = model.Waves.Patch;
        _patch = _linesAlong
            ? patch
            : new FootprintPatch(
                patch.CountAround,
                patch.CountAlong,
                patch.SpacingAroundMetres,
                patch.SpacingAlongMetres
            );
        (_apertureAlongMetres, _apertureAroundMetres) = _linesAlong
            ? (array.ElevationMetres, aperture)
            : (aperture, array.ElevationMetres);
    }

    /// <summary>Bytes of one stored A-scan.</summary>
    public int StoredBytes => _samples.Length * _model.Instrument.SampleType.SizeBytes();

    /// <summary>Computes one A-scan and its truth.</summary>
    /// <param name="line">Stored line, counted from 0.</param>
    /// <param name="scan">Stored scan position, counted from 0.</param>
    /// <param name="beam">Beam, counted from 0.</param>
    /// <param name="stored"><see cref="StoredBytes"/> bytes; takes the samples in the stored type, all at the zero level where the cell is absent.</param>
    /// <returns>The truth of the cell, labels included.</returns>
    public CellTruth Render(int line, int scan, int beam, Span<byte> stored)
    {
        if (stored.Length != StoredBytes)
            throw new ArgumentException($"{StoredBytes} bytes are needed, not {stored.Length}.", nameof(stored));
        if (!Place(line, scan, beam, out CellPlace place, out PlantedFailure labels))
        {
            stored.Clear();
            return CellTruth.Absent(labels);
        }
        double lineFraction = LineFraction(line, scan);
        CellTruth truth = View(line, scan, beam, place, lineFraction, ref labels, out WallSummary wall);
        double spike = 0;
        labels |= _model.CellFaults.Apply(line, place.Point, _cell, ref spike);
        double delay = _model.Instrument.TriggerDelaySeconds(line, scan, beam);
        _cell.DelaySeconds = delay;
        _samples.AsSpan().Clear();
        _model.Waves.AddEchoes(
            _cell,
            _model.Time.StartSeconds,
            _model.Time.SampleRateHz,
            _samples,
            _workspace,
            out EchoFacts facts
        );
        var cell = new InstrumentCell
        {
            Line = line,
            Scan = scan,
            Beam = beam,
            LineFraction = lineFraction,
            AlongMetres = place.Point.AlongMetres * _model.Shape.Stretch(place.Point),
            AroundMetres = place.Point.AroundMetres,
            InterfaceSeconds = facts.MetalSeconds,
            CoupledFraction = _cell.CoupledFraction,
            DelaySeconds = delay,
            PlantedSpikeFraction = spike,
        };
        InstrumentFacts instrument = _model.Instrument.Finish(cell, _samples, stored);
        labels |= _model.Labels.Of(
            beam,
            _cell,
            facts,
            instrument,
            _model.Instrument.NoiseFraction,
            wall.MinimumMetres,
            MaximumUnderPatch(wall)
        );
        // A steep smooth slope or general roughness weakens the echo as well, but is no pit.
        if (
            (labels & PlantedFailure.ScatteredPit) != 0
            && !_model.Wall.IsCutUnder(place.Point, _apertureAlongMetres, _apertureAroundMetres)
        )
            labels &= ~PlantedFailure.ScatteredPit;
        return truth with { Planted = labels };
    }

    /// <summary>Looks up the truth of one cell without its echoes; labels that follow from echoes are missing.</summary>
    internal CellTruth Truth(int line, int scan, int beam)
    {
        if (!Place(line, scan, beam, out CellPlace place, out PlantedFailure labels))
            return CellTruth.Absent(labels);
        return View(line, scan, beam, place, LineFraction(line, scan), ref labels, out _);
    }

    private double LineFraction(int line, int scan)
    {
        int scans = _model.Geometry.ShapeOf(line).Scans;
        return scans > 1 ? scan / (double)(scans - 1) : 0;
    }

    /// <summary>Where a stored cell truly was; false when no A-scan is stored for it.</summary>
    private bool Place(int line, int scan, int beam, out CellPlace place, out PlantedFailure labels)
    {
        ScanRow row = _model.Faults.RowOf(line, scan);
        ScanLine where = _model.Faults.LineOf(line);
        labels = row.Labels | where.Labels;
        place = default;
        if (!row.IsPresent || row.TrueScan >= _model.Geometry.ShapeOf(where.TrueLine).Scans)
        {
            labels |= PlantedFailure.Dropped;
            return false;
        }
        place = _model.Geometry.PlaceOf(where.TrueLine, row.TrueScan, beam);
        if (where.IndexOffsetMetres != 0)
            place = Shift(place, where.IndexOffsetMetres);
        return place.OnComponent;
    }

    private CellPlace Shift(CellPlace place, double offsetMetres)
    {
        ComponentShape shape = _model.Shape;
        SurfacePoint point = _linesAlong
            ? place.Point with
            {
                AroundMetres = shape.Wrap(place.Point.AroundMetres + offsetMetres),
            }
            : place.Point with
            {
                AlongMetres = place.Point.AlongMetres + offsetMetres / shape.Stretch(place.Point),
            };
        bool on =
            point.AlongMetres >= shape.StartMetres
            && point.AlongMetres <= shape.EndMetres
            && (shape.IsClosed || (point.AroundMetres >= 0 && point.AroundMetres <= shape.WidthMetres));
        return place with { Point = point, RadiusAlongMetres = shape.AlongRadiusMetres(point), OnComponent = on };
    }

    /// <summary>Fills the cell as the echo model sees it.</summary>
    private CellTruth View(
        int line,
        int scan,
        int beam,
        in CellPlace place,
        double lineFraction,
        ref PlantedFailure labels,
        out WallSummary wall
    )
    {
        SurfacePoint point = place.Point;
        CellView cell = _cell;
        cell.Reset();
        cell.Beam = _model.Waves.Beams > 0 ? beam : -1;
        cell.ArrayLiesAround = _linesAlong;
        cell.RadiusAroundMetres = place.RadiusAroundMetres;
        cell.RadiusAlongMetres = place.RadiusAlongMetres;
        cell.CouplantMetres = _model.Coupling.ThicknessMetres(line, scan, beam, lineFraction, point);
        cell.TiltAlongRadians = _model.Coupling.TiltAlongRadians;
        cell.TiltAroundRadians = _model.Coupling.TiltAroundRadians;
        cell.CoupledFraction = _model.Coupling.CoupledFraction(point, out PlantedFailure coupling);
        cell.AirReflects = (coupling & PlantedFailure.DryCoupling) == 0;
        labels |= coupling;
        if (_model.Coupling.LiftOffMetres(point) != 0)
            labels |= PlantedFailure.LiftOff;
        cell.Inner = _model.Scene.Material.Inner;
        cell.ThicknessMetres = _model.Wall.ThicknessAt(point);
        cell.RingDownFraction = _ringDownFraction;
        cell.RingDownSeconds = _model.Scene.Instrument.RingDownSeconds;
        if (!_model.Wall.IsFlatWithin(point, _patch.RadiusMetres))
        {
            Span<float> patch = cell.SetPatch(
                _patch.CountAlong,
                _patch.CountAround,
                _patch.SpacingAlongMetres,
                _patch.SpacingAroundMetres
            );
            _model.Wall.Sample(
                point,
                _patch.SpacingAlongMetres,
                _patch.SpacingAroundMetres,
                _patch.CountAlong,
                _patch.CountAround,
                patch
            );
        }
        cell.Paint = _model.Surface.PaintAt(point);
        cell.Scale = _model.Surface.ScaleAt(point);
        cell.Deposit = _model.Surface.DepositAt(point);
        cell.OuterRoughnessMetres = _model.Scene.Surface.RoughnessRmsMetres;
        cell.Lamination = _model.Wall.LaminationUnder(
            point,
            _apertureAlongMetres,
            _apertureAroundMetres,
            out double cover
        );
        cell.LaminationCover = cover;
        wall = _model.Wall.FootprintAt(point, _apertureAlongMetres, _apertureAroundMetres);
        return new CellTruth
        {
            IsPresent = true,
            ThicknessMetres = cell.ThicknessMetres,
            MinimumThicknessMetres = wall.MinimumMetres,
            MeanThicknessMetres = wall.MeanMetres,
            ReflectorDepthMetres = _model.Wall.LaminationAt(point)?.DepthMetres ?? double.NaN,
            CouplantPathMetres = cell.CouplantMetres,
            CoatingThicknessMetres = cell.Paint.ThicknessMetres + cell.Scale.ThicknessMetres,
            Planted = labels,
        };
    }

    private double MaximumUnderPatch(in WallSummary wall)
    {
        if (_cell.PatchAlong == 0)
            return wall.MinimumMetres;
        int halfAlong = (int)(_apertureAlongMetres / 2 / _patch.SpacingAlongMetres);
        int halfAround = (int)(_apertureAroundMetres / 2 / _patch.SpacingAroundMetres);
        float most = 0;
        for (
            int a = Math.Max(0, _patch.CountAlong / 2 - halfAlong);
            a < Math.Min(_patch.CountAlong, _patch.CountAlong / 2 + halfAlong);
            a++
        )
        for (
            int c = Math.Max(0, _patch.CountAround / 2 - halfAround);
            c < Math.Min(_patch.CountAround, _patch.CountAround / 2 + halfAround);
            c++
        )
            most = Math.Max(most, _cell.Patch[a * _patch.CountAround + c]);
        return most;
    }
}
