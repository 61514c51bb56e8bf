using System.Runtime.CompilerServices;

namespace EchoToThickness.Evidence;

/// <summary>The best hypotheses about one cell's wall, in falling order of likelihood; fixed size, so that a strip of cells has a known size.</summary>
public struct HypothesisSet
{
    /// <summary>Most hypotheses kept.</summary>
    public const int Most = 8;

    /// <summary>Value of <see cref="Own"/> when the cell by itself decided on no wall.</summary>
    public const int NoWall = -1;

    private HypothesisArray _hypotheses;

    /// <summary>Number of hypotheses.</summary>
    public int Count { get; private set; }

    /// <summary>Index of the wall that the cell decided on by itself; <see cref="NoWall"/> for none.</summary>
    public int Own { get; private set; }

    /// <summary>A hypothesis by index, the likeliest first.</summary>
    /// <param name="index">Index.</param>
    public readonly WallHypothesis this[int index] => _hypotheses[index];

    /// <summary>Removes everything.</summary>
    public void Clear()
    {
        Count = 0;
        Own = NoWall;
    }

    /// <summary>
    /// Adds a hypothesis in its place. One within a tolerance of another is the same wall: the likelier stays, the cell's own always. When
    /// the set is full the least likely that is not the cell's own leaves.
    /// </summary>
    /// <param name="hypothesis">The hypothesis.</param>
    /// <param name="toleranceSamples">Spacings closer than this are one wall.</param>
    /// <param name="own">Whether the cell decided on it by itself.</param>
    public void Add(in WallHypothesis hypothesis, float toleranceSamples, bool own)
    {
        for (int k = 0; k < Count; k++)
        {
            if (Math.Abs(_hypotheses[k].SpacingSamples - hypothesis.SpacingSamples) >= toleranceSamples)
                continue;
            if (own || k != Own && hypothesis.LogLikelihood > _hypotheses[k].LogLikelihood)
                RemoveAt(k--);
            else
                return;
        }
        if (Count == Most)
        {
            int last = Most - 1 == Own ? Most - 2 : Most - 1;
            if (!own && _hypotheses[last].LogLikelihood >= hypothesis.LogLikelihood)
                return;
            RemoveAt(last);
        }
        int at = Count;
        while (at > 0 && _hypotheses[at - 1].LogLikelihood < hypothesis.LogLikelihood)
        {
            _hypotheses[at] = _hypotheses[at - 1];
            at--;
        }
        _hypotheses[at] = hypothesis;
        Count++;
        if (own)
            Own = at;
        else if (Own >= at)
            Own++;
    }

    /// <summary>Index of a hypothesis; -1 when it is not in the set.</summary>
    /// <param name="hypothesis">The hypothesis.</param>
    public readonly int IndexOf(in WallHypothesis hypothesis)
    {
        int index = Count - 1;
        while (index >= 0 && _hypotheses[index] != hypothesis)
            index--;
        return index;
    }

    /// <summary>Gives a hypothesis another likelihood and puts it in its place.</summary>
    /// <param name="index">Index.</param>
    /// <param name="logLikelihood">The likelihood, larger than before.</param>
    public void Raise(int index, double logLikelihood)
    {
        WallHypothesis raised = _hypotheses[index] with { LogLikelihood = (float)logLikelihood };
        bool own = Own == index;
        RemoveAt(index);
        int at = Count;
        while (at > 0 && _hypotheses[at - 1].LogLikelihood < raised.LogLikelihood)
        {
            _hypotheses[at] = _hypotheses[at - 1];
            at--;
        }
        _hypotheses[at] = raised;
        Count++;
        if (own)
            Own = at;
        else if (Own >= at)
            Own++;
    }

    /// <summary>The cell's own decision no longer stands; its hypotheses do.</summary>
    public void Disown() => Own = NoWall;

    private void RemoveAt(int index)
    {
        for (int k = index; k < Count - 1; k++)
            _hypotheses[k] = _hypotheses[k + 1];
        Count--;
        if (Own == index)
            Own = NoWall;
        else if (Own > index)
            Own--;
    }

    [InlineArray(Most)]
    private struct HypothesisArray
    {
        private WallHypothesis _first;
    }
}
