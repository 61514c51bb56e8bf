namespace EchoToThickness.Studies.Tune;

/// <summary>What the search promises of cells that it has not seen: the best rule set of the rest, on the part left out.</summary>
/// <param name="LeftOut">What is left out in turn, in words.</param>
/// <param name="Rows">Each part: name, loss there of the rule set that is best on the rest, loss there of the one that is best on all, and the number of the chosen.</param>
/// <param name="Loss">Mean loss on the parts left out.</param>
/// <param name="SeenLoss">Mean loss, on the same parts, of the rule set that is best on all of them: what the search itself sees.</param>
public sealed record CrossValidation(
    string LeftOut,
    IReadOnlyList<(string Part, double Loss, double SeenLoss, int Chosen)> Rows,
    double Loss,
    double SeenLoss
)
{
    /// <summary>How much better the search makes itself look than it is.</summary>
    public double Optimism => Loss - SeenLoss;

    /// <summary>Cross-validates a choice.</summary>
    /// <param name="leftOut">What is left out in turn, in words.</param>
    /// <param name="parts">Names of the parts.</param>
    /// <param name="candidates">Number of rule sets.</param>
    /// <param name="lossOn">Loss of a rule set on one part.</param>
    /// <param name="lossWithout">Loss of a rule set on all parts but one.</param>
    /// <param name="lossOnAll">Loss of a rule set on all parts.</param>
    /// <returns>The result; null with fewer than two parts or rule sets.</returns>
    public static CrossValidation? Of(
        string leftOut,
        IReadOnlyList<string> parts,
        int candidates,
        Func<int, int, double> lossOn,
        Func<int, int, double> lossWithout,
        Func<int, double> lossOnAll
    )
    {
        ArgumentNullException.ThrowIfNull(parts);
        ArgumentNullException.ThrowIfNull(lossOn);
        ArgumentNullException.ThrowIfNull(lossWithout);
        ArgumentNullException.ThrowIfNull(lossOnAll);
        if (parts.Count < 2 || candidates < 2)
            return null;
        int best = Best(candidates, lossOnAll);
        var rows = new List<(string, double Loss, double SeenLoss, int)>();
        for (int part = 0; part < parts.Count; part++)
        {
            int without = part;
            int chosen = Best(candidates, i => lossWithout(i, without));
            rows.Add((parts[part], lossOn(chosen, part), lossOn(best, part), chosen));
        }
        return new CrossValidation(leftOut, rows, rows.Average(r => r.Loss), rows.Average(r => r.SeenLoss));
    }

    private static int Best(int count, Func<int, double> loss)
    {
        int best = 0;
        double least = double.PositiveInfinity;
        for (int i = 0; i < count; i++)
            if (loss(i) is var value && value < least)
                (best, least) = (i, value);
        return best;
    }
}
