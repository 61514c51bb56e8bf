using EchoToThickness.Grids;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Signals;
using EchoToThickness.Stacks;

namespace EchoToThickness.Measurement.Shared;

/// <summary>One thread's reader and measurers for a class of plans; the counterpart of <see cref="MeasurementWorker"/> for many plans.</summary>
internal sealed class SharedWorker : IDisposable
{
    private readonly PlanClass _class;
    private readonly MeasurementGeometry _geometry;
    private readonly Action<int, GridTile> _take;
    private readonly IAScanReader _reader;
    private readonly GridTile[] _tiles;
    private readonly GateFamily? _gates;
    private readonly TrainFamily? _train;
    private readonly (LineMeasurer Measurer, int Plan)[] _alone;
    private readonly MapStrip[] _maps = [];
    private readonly MapChooser[] _choosers = [];

    public SharedWorker(IAScanSource source, PlanClass plans, Action<int, GridTile> take, KernelPath? kernels)
    {
        _class = plans;
        _geometry = plans.Geometry;
        _take = take;
        _reader = source.OpenReader();
        KernelPath path = kernels ?? KernelPaths.Best;
        int capacity = _geometry.Mapped
            ? Math.Min(_geometry.Scans, _geometry.ScansPerGroup) * _geometry.Beams
            : _geometry.ScansPerLend * _geometry.BeamsPerLend;
        _tiles = [.. plans.Plans.Select(p => new GridTile(capacity, p.Layers))];
        if (plans.Plans[0].Procedure.Pairing.Rule == PairingRule.Train)
        {
            _train = new TrainFamily(plans.Plans, path);
            _alone = [];
        }
        else
        {
            _alone =
            [
                .. Enumerable
                    .Range(0, plans.Plans.Count)
                    .Where(_ => !_geometry.Tracked)
                    .Select(i => (Measurer: plans.Plans[i].CreateMeasurer(path), Plan: i))
                    .Where(m => m.Measurer is Fast.FastMeasurer),
            ];
            int[] general = [.. Enumerable.Range(0, plans.Plans.Count).Except(_alone.Select(m => m.Plan))];
            if (general.Length > 0)
                _gates = new GateFamily(plans.Plans, general, path, _geometry);
        }
        if (_geometry.Mapped)
        {
            _maps = [.. plans.Plans.Select(_ => new MapStrip(_geometry.StripCapacity, _geometry.Beams))];
            _choosers = [.. plans.Plans.Select(p => new MapChooser(p.Procedure.Map, p.Stack.Neighbours))];
        }
    }

    public void Dispose() => _reader.Dispose();

    public void MeasureGroup(int group)
    {
        (int first, int count) = _geometry.Group(group);
        if (_geometry.Mapped)
        {
            MeasureMapped(group, first, count);
            return;
        }
        if (_geometry.Tracked && _gates is not null)
            Track(group, _gates);
        foreach ((int scan, int scans, int beam, int beams) in Rectangles(first, count))
        {
            foreach (GridTile tile in _tiles)
                tile.Place(scan, scans, beam, beams);
            AScanBlock block = Lend(scan, scans, beam, beams);
            foreach ((LineMeasurer measurer, int plan) in _alone)
                measurer.Measure(block, _tiles[plan], null);
            _gates?.Measure(block, _tiles);
            _train?.Measure(block, _tiles);
            Give();
        }
    }

    private void MeasureMapped(int group, int first, int count)
    {
        (int from, int lines) = _geometry.Strip(group);
        foreach (MapStrip map in _maps)
            map.Place(from, lines);
        foreach ((int scan, int scans, int beam, int beams) in Rectangles(from, lines))
            _train!.Collect(Lend(scan, scans, beam, beams), scan, scans, beam, beams, _maps);
        for (int plan = 0; plan < _maps.Length; plan++)
        {
            MapStrip map = _maps[plan];
            TrainMeasurer measurer = _train!.MeasurerOf(plan);
            _choosers[plan].Run(map, first, count);
            _tiles[plan].Place(first, count, 0, _geometry.Beams);
            for (int scan = first; scan < first + count; scan++)
            {
                for (int beam = 0; beam < _geometry.Beams; beam++)
                    _tiles[plan].Set((scan - first) * _geometry.Beams + beam, Finish(measurer, map, scan, beam));
            }
        }
        Give();
    }

    private CellResult Finish(TrainMeasurer measurer, MapStrip map, int scan, int beam)
    {
        MapAction action = measurer.Decide(map, scan, beam);
        if (action != MapAction.Keep)
            return measurer.Apply(_reader.Lend(scan, 1, beam, 1), scan, beam, action, map);
        CellResult own = map.Own(scan, beam);
        own.WrongEchoProbability = measurer.OwnWrong(map, scan, beam);
        return own;
    }

    private void Track(int group, GateFamily gates)
    {
        (int from, int lines) = _geometry.Strip(group);
        gates.BeginTracking(from, lines);
        foreach ((int scan, int scans, int beam, int beams) in Rectangles(from, lines))
            gates.FindInterfaces(Lend(scan, scans, beam, beams), scan, scans, beam, beams);
        gates.Track();
    }

    private void Give()
    {
        for (int plan = 0; plan < _tiles.Length; plan++)
            _take(_class.Numbers[plan], _tiles[plan]);
    }

    private IEnumerable<(int Scan, int Scans, int Beam, int Beams)> Rectangles(int first, int count)
    {
        for (int scan = first; scan < first + count; scan += _geometry.ScansPerLend)
        {
            int scans = Math.Min(_geometry.ScansPerLend, first + count - scan);
            for (int beam = 0; beam < _geometry.Beams; beam += _geometry.BeamsPerLend)
                yield return (scan, scans, beam, Math.Min(_geometry.BeamsPerLend, _geometry.Beams - beam));
        }
    }

    private AScanBlock Lend(int scan, int scans, int beam, int beams)
    {
        int firstScan = Math.Max(0, scan - _geometry.HaloScans);
        int endScan = Math.Min(_geometry.Scans, scan + scans + _geometry.HaloScans);
        int firstBeam = Math.Max(0, beam - _geometry.HaloBeams);
        int endBeam = Math.Min(_geometry.Beams, beam + beams + _geometry.HaloBeams);
        return _reader.Lend(firstScan, endScan - firstScan, firstBeam, endBeam - firstBeam);
    }
}
