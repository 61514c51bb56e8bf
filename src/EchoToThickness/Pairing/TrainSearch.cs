using EchoToThickness.Echoes;

namespace EchoToThickness.Pairing;

/// <summary>
/// Tries every train that the candidates of one A-scan allow and scores each: what it explains, what it leaves unexplained, what it
/// expects and does not find. Reused from A-scan to A-scan; allocates nothing after construction.
/// </summary>
/// <remarks>
/// Physics used: back-wall echoes follow the interface at multiples of one spacing, all with the polarity opposite to the interface and
/// decaying; echoes of the couplant layer have the interface's polarity and follow its transit time; no wall echo is stronger than
/// the transmission into the metal and back allows.
/// </remarks>
public sealed class TrainSearch
{
    /// <summary>A reflector counts from this fraction of the strongest wall-like echo.</summary>
    internal const double EligibleFraction = 0.25;

    /// <summary>Scatter of the interface itself (edge waves of the aperture), against the interface: -36 dB.</summary>
    internal const double ScatterFraction = 0.015848931924611134;

    /// <summary>An echo with the interface's polarity over this fraction of it is a couplant echo: -16.5 dB.</summary>
    internal const double CouplantFraction = 0.14962356560944334;

    private const int MaximumHypotheses = 1024;

    private readonly TrainHypothesis[] _hypotheses = new TrainHypothesis[MaximumHypotheses];
    private readonly int[] _order = new int[MaximumHypotheses];
    private readonly double[] _spacings = new double[TrainSpacings.Most];
    private TrainContext _context = null!;
    private EchoRecord _record = null!;

    /// <summary>Number of hypotheses.</summary>
    public int Count { get; private set; }

    /// <summary>A hypothesis by rank, 0 the best.</summary>
    /// <param name="rank">Rank.</param>
    public ref readonly TrainHypothesis this[int rank] => ref _hypotheses[_order[rank]];

    /// <summary>Tries all trains and ranks them.</summary>
    /// <param name="context">The front of the prepared record.</param>
    public void Run(TrainContext context)
    {
        ArgumentNullException.ThrowIfNull(context);
        _context = context;
        _record = context.Record;
        Count = 0;
        for (int i = 0; i < _record.Count; i++)
        {
            if (context.Interfaces.Contains(i))
                TryInterface(i);
        }
        if (LostInterface.TryFind(_record, out TrainHypothesis lost))
        {
            _hypotheses[0] = lost;
            Count = 1;
        }
        Rank();
    }

    /// <summary>Best hypothesis whose spacing differs from the winner's by more than the tolerance; -1 when none.</summary>
    public int RunnerUp()
    {
        for (int rank = 1; rank < Count; rank++)
        {
            if (Math.Abs(this[rank].SpacingSamples - this[0].SpacingSamples) > _record.Scale.Tolerance)
                return rank;
        }
        return -1;
    }

    private void TryInterface(int front)
    {
        TrainEchoes sorted = TrainEchoes.Behind(_context, front);
        if (sorted.Walls.IsEmpty)
            return;
        int spacings = TrainSpacings.List(_context, front, sorted, _spacings);
        for (int k = 0; k < spacings; k++)
            TrySpacing(front, _spacings[k], sorted);
    }

    private void TrySpacing(int front, double spacing, in TrainEchoes sorted)
    {
        if (Count == MaximumHypotheses)
            return;
        ref TrainHypothesis train = ref _hypotheses[Count];
        train = new TrainHypothesis
        {
            Interface = front,
            SpacingSamples = spacing,
            Walls = sorted.Walls,
            Couplant = sorted.Couplant,
            SurelyCouplant = sorted.SurelyCouplant,
        };
        int lastTried = TrainMembers.Gather(_record, ref train);
        if (train.MemberCount == 0 || IsKnown(train) || !TrainScore.IsBelievable(_context, train))
            return;
        TrainScore.Score(_context, ref train, lastTried, sorted);
        Count++;
    }

    /// <summary>Whether another spacing already gathered the same members.</summary>
    private bool IsKnown(in TrainHypothesis train)
    {
        for (int k = 0; k < Count; k++)
        {
            if (
                _hypotheses[k].Interface == train.Interface
                && _hypotheses[k].MemberCount == train.MemberCount
                && _hypotheses[k].Members.SequenceEqual(train.Members)
            )
                return true;
        }
        return false;
    }

    /// <summary>Orders by score, highest first; of equals the one tried first stays in front.</summary>
    private void Rank()
    {
        for (int k = 0; k < Count; k++)
        {
            int at = k;
            double score = _hypotheses[k].Score;
            while (at > 0 && _hypotheses[_order[at - 1]].Score < score)
            {
                _order[at] = _order[at - 1];
                at--;
            }
            _order[at] = k;
        }
    }
}
