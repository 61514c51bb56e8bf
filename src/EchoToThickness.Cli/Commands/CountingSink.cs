using EchoToThickness.Grids;

namespace EchoToThickness.Cli.Commands;

/// <summary>Passes results on to another sink and counts thicknesses in steps of a micrometre, for the median; memory is fixed.</summary>
internal sealed class CountingSink(IGridSink inner) : IGridSink
{
    private const double StepMetres = 1e-6;
    private readonly int[] _counts = new int[200_001];
    private GridLayer[] _layers = [];

    public void Begin(GridHeader header)
    {
        _layers = [.. header.Layers];
        inner.Begin(header);
    }

    public void Write(GridTile tile)
    {
        if (_layers.Contains(GridLayer.Thickness))
        {
            foreach (float metres in tile[GridLayer.Thickness].AsSpan(0, tile.Count))
            {
                if (!float.IsNaN(metres))
                    Interlocked.Increment(
                        ref _counts[(int)Math.Clamp(Math.Round(metres / StepMetres), 0, _counts.Length - 1)]
                    );
            }
        }
        inner.Write(tile);
    }

    public void Complete(GridSummary summary) => inner.Complete(summary);

    /// <summary>Median thickness to a micrometre, metres; NaN when nothing was measured. Of an even count the lower of the middle two.</summary>
    public double MedianMetres()
    {
        long total = _counts.Sum(c => (long)c);
        if (total == 0)
            return double.NaN;
        long seen = 0;
        int step = -1;
        while (seen * 2 < total)
            seen += _counts[++step];
        return step * StepMetres;
    }
}
