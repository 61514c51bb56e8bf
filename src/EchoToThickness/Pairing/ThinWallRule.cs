using EchoToThickness.Echoes;

namespace EchoToThickness.Pairing;

/// <summary>
/// Notices a wall thinner than echoes can be told apart: its first echo lies in the interface, so that a train at twice or three times
/// its spacing is found, with clear echoes of the wall's sign between the members.
/// </summary>
public static class ThinWallRule
{
    /// <summary>Echoes between members count from this fraction of the strongest member.</summary>
    private const double ClearFraction = 0.4;

    /// <summary>
    /// Echoes between members that make a train a multiple: the next two that the thinner wall would have behind the train's first, so that
    /// a second reflector and its repeat do not pass for them.
    /// </summary>
    private const int Needed = 2;

    /// <summary>Order of the last of these two, for a half (3, 5) as for a third (4, 5).</summary>
    private const int LastBetween = 5;

    /// <summary>Whether a train is a multiple of a thinner, unresolved wall.</summary>
    /// <param name="context">The A-scan.</param>
    /// <param name="train">The chosen train; must have an interface.</param>
    public static bool IsMultipleOfThinner(TrainContext context, in TrainHypothesis train)
    {
        ArgumentNullException.ThrowIfNull(context);
        for (int part = 2; part <= 3; part++)
        {
            double spacing = train.SpacingSamples / part;
            // A spacing that echoes can show has a hypothesis of its own, which lost on its merits.
            if (spacing >= context.Record.Scale.SmallestSpacing)
                continue;
            if (CountBetween(context, train, spacing, part) >= Needed)
                return true;
        }
        return false;
    }

    private static int CountBetween(TrainContext context, in TrainHypothesis train, double spacing, int part)
    {
        EchoRecord record = context.Record;
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        double front = echoes[train.Interface].PositionSamples;
        double clear = ClearFraction * echoes[train.Reference].AmplitudeFraction;
        CandidateSet members = train.MemberSet;
        int count = 0;
        for (int q = 0; q < echoes.Length; q++)
        {
            double order = (echoes[q].PositionSamples - front) / spacing;
            int whole = EchoScale.Round(order);
            if (
                whole > part
                && whole <= LastBetween
                && whole % part != 0
                && Math.Abs(order - whole) * spacing < 0.5 * record.Scale.Tolerance
                && !members.Contains(q)
                && !train.Couplant.Contains(q)
                && echoes[q].AmplitudeFraction >= clear
                && record.Sign(train.Reference, q) > 0.5
            )
                count++;
        }
        return count;
    }
}
