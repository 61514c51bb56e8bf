namespace EchoToThickness.Components;

/// <summary>Positions of one axis, in any order, found by place.</summary>
internal sealed class PositionIndex
{
    private readonly double[] _positions;
    private readonly double[] _sorted;
    private readonly int[] _order;
    private readonly double _reach;

    public PositionIndex(double[] positions)
    {
        _positions = positions;
        _sorted = [.. positions];
        _order = [.. Enumerable.Range(0, positions.Length)];
        Array.Sort(_sorted, _order);
        double[] steps = [.. positions.Skip(1).Select((p, k) => Math.Abs(p - positions[k])).Order()];
        PitchMetres = steps.Length > 0 ? steps[steps.Length / 2] : 1e-3;
        _reach = PitchMetres * (0.5 + 1e-6);
    }

    public double PitchMetres { get; }

    public double this[int index] => _positions[index];

    /// <summary>The position within half a pitch, nearest first; -1 for none. A period other than 0 wraps.</summary>
    public int Nearest(double position, double period)
    {
        if (period > 0)
        {
            // Bring the place into the period that begins half a pitch below the first position.
            double low = _sorted[0] - _reach;
            position = low + (position - low - period * Math.Floor((position - low) / period));
        }
        int at = Array.BinarySearch(_sorted, position);
        if (at < 0)
            at = ~at;
        int best = -1;
        double distance = _reach;
        for (int k = Math.Max(0, at - 1); k <= Math.Min(_sorted.Length - 1, at); k++)
        {
            double away = Math.Abs(_sorted[k] - position);
            if (away > distance)
                continue;
            distance = away;
            best = _order[k];
        }
        return best;
    }
}
