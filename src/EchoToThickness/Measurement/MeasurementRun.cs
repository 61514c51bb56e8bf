using System.Runtime.ExceptionServices;
using EchoToThickness.Grids;
using EchoToThickness.Pairing;
using EchoToThickness.Stacks;

namespace EchoToThickness.Measurement;

/// <summary>The state that the workers of one run share: the next group, the counts, the first failure.</summary>
internal sealed class MeasurementRun(
    IAScanSource source,
    MeasurementPlan plan,
    MeasurementGeometry geometry,
    IGridSink sink,
    MeasurementOptions options
)
{
    private readonly Lock _lock = new();
    private readonly int[]? _order = options.Order?.Of(geometry);
    private readonly long[] _counts = new long[Enum.GetValues<CellStatus>().Length];
    private long _withThickness;
    private float _minimum = float.PositiveInfinity;
    private float _maximum = float.NegativeInfinity;
    private ExceptionDispatchInfo? _failure;
    private int _nextGroup;
    private long _done;
    private volatile bool _stop;

    /// <summary>Takes groups until none is left; what one worker thread runs.</summary>
    public void Work()
    {
        try
        {
            using var worker = new MeasurementWorker(source, plan, geometry, options.Kernels, options.Evidence);
            while (!_stop)
            {
                int group = Interlocked.Increment(ref _nextGroup) - 1;
                if (group >= geometry.Groups)
                    break;
                if (options.Cancellation.IsCancellationRequested)
                    break;
                GridTile tile = worker.MeasureGroup(_order is null ? group : _order[group]);
                sink.Write(tile);
                long done = Interlocked.Add(ref _done, tile.Count);
                options.Progress?.Invoke(done, source.Info.Shape.Cells);
            }
            Merge(worker);
        }
        catch (Exception error)
        {
            _stop = true;
            lock (_lock)
                _failure ??= ExceptionDispatchInfo.Capture(error);
        }
    }

    public void ThrowIfFailed() => _failure?.Throw();

    public GridSummary Summary(string stackSha256) =>
        new()
        {
            CountByStatus = _counts,
            WithThickness = _withThickness,
            MinimumThicknessMetres = _withThickness > 0 ? _minimum : double.NaN,
            MaximumThicknessMetres = _withThickness > 0 ? _maximum : double.NaN,
            StackSha256 = stackSha256,
        };

    private void Merge(MeasurementWorker worker)
    {
        lock (_lock)
        {
            for (int status = 0; status < _counts.Length; status++)
                _counts[status] += worker.CountByStatus[status];
            _withThickness += worker.WithThickness;
            _minimum = Math.Min(_minimum, worker.Minimum);
            _maximum = Math.Max(_maximum, worker.Maximum);
        }
    }
}
