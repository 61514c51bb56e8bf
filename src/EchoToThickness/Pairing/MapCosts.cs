using EchoToThickness.Evidence;
using EchoToThickness.Procedures;

namespace EchoToThickness.Pairing;

/// <summary>Costs of the choice over the map, nats.</summary>
internal readonly struct MapCosts
{
    private readonly float _perMetre;
    private readonly float _jump;
    private readonly float _guard;

    public MapCosts(MapSettings settings)
    {
        _perMetre = (float)(1 / settings.ChangeMetres);
        _jump = (float)settings.JumpNats;
        _guard = (float)settings.GuardNats;
    }

    /// <summary>A cell's own evidence against a hypothesis: 0 for its best, at most the guard.</summary>
    public float Own(in HypothesisSet set, int hypothesis) =>
        Math.Min(set[0].LogLikelihood - set[hypothesis].LogLikelihood, _guard);

    /// <summary>Whether a cell's own evidence leaves a hypothesis open.</summary>
    public bool IsOpen(in HypothesisSet set, int hypothesis) =>
        set[0].LogLikelihood - set[hypothesis].LogLikelihood < _guard;

    /// <summary>A change of wall over a number of cells: linear, held to the jump.</summary>
    public float Change(float metres, float otherMetres, int cells) =>
        Math.Min(Math.Abs(metres - otherMetres) * _perMetre / cells, _jump);

    /// <summary>Smallest total among the hypotheses left open; the cell's own of equals, else the likelier.</summary>
    public int Best(in HypothesisSet set, ReadOnlySpan<float> total)
    {
        int best = 0;
        for (int h = 1; h < set.Count && IsOpen(set, h); h++)
        {
            if (total[h] < total[best] || (total[h] == total[best] && h == set.Own))
                best = h;
        }
        return best;
    }
}
