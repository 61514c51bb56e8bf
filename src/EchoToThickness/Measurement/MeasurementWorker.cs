using EchoToThickness.Evidence;
using EchoToThickness.Grids;
using EchoToThickness.InterfaceSync;
using EchoToThickness.Pairing;
using EchoToThickness.Signals;
using EchoToThickness.Stacks;

namespace EchoToThickness.Measurement;

/// <summary>One thread's reader, measurer and scratch: measures a group of scan lines at a time.</summary>
internal sealed class MeasurementWorker : IDisposable
{
    private readonly MeasurementPlan _plan;
    private readonly MeasurementGeometry _geometry;
    private readonly IAScanReader _reader;
    private readonly LineMeasurer _measurer;
    private readonly GridTile _group;
    private readonly GridTile _part;
    private readonly EvidenceStore? _evidence;
    private InterfaceStrip? _strip;
    private MapStrip? _map;
    private readonly MapChooser? _chooser;

    public MeasurementWorker(
        IAScanSource source,
        MeasurementPlan plan,
        MeasurementGeometry geometry,
        KernelPath? kernels = null,
        EvidenceStore? evidence = null
    )
    {
        _plan = plan;
        _evidence = evidence is not null && evidence.Keeps(plan) ? evidence : null;
        _geometry = geometry;
        _reader = source.OpenReader();
        _measurer = plan.CreateMeasurer(kernels);
        _group = new GridTile(Math.Min(geometry.Scans, geometry.ScansPerGroup) * geometry.Beams, plan.Layers);
        _part = new GridTile(geometry.ScansPerLend * geometry.BeamsPerLend, plan.Layers);
        if (geometry.Tracked)
            _strip = new InterfaceStrip(geometry.StripCapacity, geometry.Beams);
        if (geometry.Mapped)
        {
            _map = new MapStrip(geometry.StripCapacity, geometry.Beams);
            _chooser = new MapChooser(plan.Procedure.Map, plan.Stack.Neighbours);
        }
        CountByStatus = new long[Enum.GetValues<CellStatus>().Length];
    }

    public long[] CountByStatus { get; }
    public long WithThickness { get; private set; }
    public float Minimum { get; private set; } = float.PositiveInfinity;
    public float Maximum { get; private set; } = float.NegativeInfinity;

    /// <summary>Measures a group; the tile is reused by the next call.</summary>
    public GridTile MeasureGroup(int group)
    {
        if (_map is not null)
            return MeasureMapped(group);
        if (_strip is not null)
            Track(group);
        (int first, int count) = _geometry.Group(group);
        _group.Place(first, count, 0, _geometry.Beams);
        for (int scan = first; scan < first + count; scan += _geometry.ScansPerLend)
        {
            int scans = Math.Min(_geometry.ScansPerLend, first + count - scan);
            for (int beam = 0; beam < _geometry.Beams; beam += _geometry.BeamsPerLend)
            {
                int beams = Math.Min(_geometry.BeamsPerLend, _geometry.Beams - beam);
                _part.Place(scan, scans, beam, beams);
                _measurer.Measure(Lend(scan, scans, beam, beams), _part, _strip);
                _group.Paste(_part);
            }
        }
        Count(_group);
        return _group;
    }

    /// <summary>Measures a group whose walls are chosen over the map: own evidence of the strip, choice, second look at changed cells.</summary>
    private GridTile MeasureMapped(int group)
    {
        (int first, int count) = _geometry.Group(group);
        (int from, int lines) = _geometry.Strip(group);
        MapStrip map = _map!;
        if (_evidence?.Maps[group] is { } kept)
        {
            map = kept;
            map.ForgetChoices();
        }
        else
        {
            Collect(map, from, lines);
            if (_evidence is not null)
            {
                _evidence.Maps[group] = map;
                _map = new MapStrip(_geometry.StripCapacity, _geometry.Beams);
            }
        }
        _chooser!.Run(map, first, count);
        _group.Place(first, count, 0, _geometry.Beams);
        for (int scan = first; scan < first + count; scan++)
        {
            for (int beam = 0; beam < _geometry.Beams; beam++)
                _group.Set((scan - first) * _geometry.Beams + beam, Finish(map, scan, beam, out _));
        }
        Count(_group);
        return _group;
    }

    private void Collect(MapStrip map, int firstScan, int scanCount)
    {
        map.Place(firstScan, scanCount);
        for (int scan = firstScan; scan < firstScan + scanCount; scan += _geometry.ScansPerLend)
        {
            int scans = Math.Min(_geometry.ScansPerLend, firstScan + scanCount - scan);
            for (int beam = 0; beam < _geometry.Beams; beam += _geometry.BeamsPerLend)
            {
                int beams = Math.Min(_geometry.BeamsPerLend, _geometry.Beams - beam);
                ((TrainMeasurer)_measurer).Collect(Lend(scan, scans, beam, beams), scan, scans, beam, beams, map);
            }
        }
    }

    private CellResult Finish(MapStrip map, int scan, int beam, out MapAction action)
    {
        action = ((TrainMeasurer)_measurer).Decide(map, scan, beam);
        if (action != MapAction.Keep)
            return ((TrainMeasurer)_measurer).Apply(_reader.Lend(scan, 1, beam, 1), scan, beam, action, map);
        CellResult own = map.Own(scan, beam);
        own.WrongEchoProbability = ((TrainMeasurer)_measurer).OwnWrong(map, scan, beam);
        return own;
    }

    /// <summary>Measures one cell as <see cref="MeasureGroup"/> would, recording decisions.</summary>
    public CellResult Explain(int scan, int beam, MeasurementTrace trace)
    {
        if (_strip is not null)
            Track(scan / _geometry.ScansPerGroup);
        if (_map is not null)
            return ExplainMapped(scan, beam, _map, trace);
        return _measurer.MeasureCell(Lend(scan, 1, beam, 1), scan, beam, _strip, trace);
    }

    private CellResult ExplainMapped(int scan, int beam, MapStrip map, MeasurementTrace trace)
    {
        int from = Math.Max(0, scan - _geometry.OverlapScans);
        int to = Math.Min(_geometry.Scans, scan + _geometry.OverlapScans + 1);
        Collect(map, from, to - from);
        _chooser!.Run(map, scan, 1);
        _measurer.MeasureCell(Lend(scan, 1, beam, 1), scan, beam, null, trace);
        CellResult cell = Finish(map, scan, beam, out MapAction action);
        MapExplanation.Fill(trace, map, scan, beam, action, cell);
        return cell;
    }

    public void Dispose() => _reader.Dispose();

    /// <summary>Finds interfaces in the strip around a group and lets neighbours decide.</summary>
    private void Track(int group)
    {
        if (_evidence?.Interfaces[group] is { } kept)
        {
            _strip = kept;
            return;
        }
        InterfaceStrip strip = _evidence is null
            ? _strip!
            : new InterfaceStrip(_geometry.StripCapacity, _geometry.Beams);
        _strip = strip;
        (int first, int count) = _geometry.Strip(group);
        strip.Place(first, count);
        for (int scan = first; scan < first + count; scan += _geometry.ScansPerLend)
        {
            int scans = Math.Min(_geometry.ScansPerLend, first + count - scan);
            for (int beam = 0; beam < _geometry.Beams; beam += _geometry.BeamsPerLend)
            {
                int beams = Math.Min(_geometry.BeamsPerLend, _geometry.Beams - beam);
                _measurer.FindInterfaces(Lend(scan, scans, beam, beams), scan, scans, beam, beams, strip);
            }
        }
        InterfaceTracker.Track(strip, _plan.Stack.Neighbours, _plan.Procedure.Interface);
        if (_evidence is not null)
            _evidence.Interfaces[group] = strip;
    }

    /// <summary>Lends a rectangle with the halo that averaging over neighbours needs.</summary>
    private AScanBlock Lend(int scan, int scans, int beam, int beams)
    {
        int firstScan = Math.Max(0, scan - _geometry.HaloScans);
        int endScan = Math.Min(_geometry.Scans, scan + scans + _geometry.HaloScans);
        int firstBeam = Math.Max(0, beam - _geometry.HaloBeams);
        int endBeam = Math.Min(_geometry.Beams, beam + beams + _geometry.HaloBeams);
        return _reader.Lend(firstScan, endScan - firstScan, firstBeam, endBeam - firstBeam);
    }

    private void Count(GridTile tile)
    {
        foreach (byte status in tile.Status.AsSpan(0, tile.Count))
            CountByStatus[Math.Min(status, CountByStatus.Length - 1)]++;
        float[] thickness = tile[GridLayer.Thickness];
        if (thickness.Length == 0)
            return;
        foreach (float value in thickness.AsSpan(0, tile.Count))
        {
            if (float.IsNaN(value))
                continue;
            WithThickness++;
            Minimum = Math.Min(Minimum, value);
            Maximum = Math.Max(Maximum, value);
        }
    }
}
