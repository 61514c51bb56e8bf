using EchoToThickness.Evidence;

namespace EchoToThickness.Pairing;

/// <summary>From costs over the map to the probability that the chosen echo is the wrong one.</summary>
/// <remarks>
/// Raw: <c>1 - exp(-c_chosen) / sum exp(-c_h)</c> over all hypotheses and "none of them", whose cost is the likelihood of the best. Raw odds are
/// too sure of themselves (directions share evidence, echoes share causes), so they are mapped to rates observed on simulated maps with
/// planted failures: straight lines, rate as its logarithm over raw log odds, between the points below. docs/theory/map-pairing.md says how
/// they were found and docs/validation.md on which other maps they were checked.
/// </remarks>
internal static class MapProbability
{
    private static readonly (double LogOdds, double Rate)[] Laminar =
    [
        (-11.9, 1.1e-3),
        (-11.0, 4.0e-3),
        (-9.8, 2.3e-2),
        (-8.6, 4.7e-2),
        (0.4, 4.7e-2),
        (3.5, 0.32),
    ];

    private static readonly (double LogOdds, double Rate)[] Pits =
    [
        (-16.0, 1.8e-4),
        (-14.5, 1.1e-3),
        (-11.5, 1.4e-3),
        (-9.8, 2.5e-3),
        (-8.0, 6.7e-3),
    ];

    /// <summary>Log odds, before anything is heard, that the wall of a coupled cell is among the candidates.</summary>
    private const double HeardPrior = 3;

    /// <summary>Smallest total among the hypotheses left open; the cell's own of equals, else the likelier.</summary>
    public static int Best(in HypothesisSet set, ReadOnlySpan<float> total, in MapCosts costs)
    {
        int best = 0;
        for (int h = 1; h < set.Count && costs.IsOpen(set, h); h++)
        {
            if (total[h] < total[best] || (total[h] == total[best] && h == set.Own))
                best = h;
        }
        return best;
    }

    /// <summary>Probability that a wall is the wrong one by the cell's own evidence alone; NaN where nobody listed hypotheses or it is none of them.</summary>
    /// <param name="set">Hypotheses of the cell.</param>
    /// <param name="thicknessMetres">The wall; NaN for none.</param>
    /// <param name="costs">Costs.</param>
    public static double Alone(in HypothesisSet set, double thicknessMetres, in MapCosts costs)
    {
        if (set.Count == 0 || set.Own < 0 || double.IsNaN(thicknessMetres))
            return double.NaN;
        Span<float> total = stackalloc float[HypothesisSet.Most];
        for (int h = 0; h < set.Count; h++)
            total[h] = set[0].LogLikelihood - set[h].LogLikelihood;
        return Wrong(set, total[..set.Count], set.Own, costs);
    }

    /// <summary>Probability that the chosen hypothesis is not the wall.</summary>
    /// <param name="set">Hypotheses of the cell.</param>
    /// <param name="total">Own cost and what neighbours add, nats, smaller is likelier.</param>
    /// <param name="chosen">Index of the chosen one.</param>
    /// <param name="costs">Costs, for the guard: neighbours do not speak for a hypothesis that the cell's own evidence rules out.</param>
    public static double Wrong(in HypothesisSet set, ReadOnlySpan<float> total, int chosen, in MapCosts costs)
    {
        double others = 0;
        for (int h = 0; h < total.Length; h++)
        {
            if (h == chosen || (!costs.CountsThicker && set[h].ThicknessMetres > set[chosen].ThicknessMetres))
                continue;
            double own = set[h].LogLikelihood - set[chosen].LogLikelihood;
            double lead = costs.IsOpen(set, h) ? total[chosen] - total[h] : own;
            others += Math.Exp(Math.Min(lead, 50));
        }
        // None of them: as if the cell held no wall at all.
        others += Math.Exp(Math.Min(-set[chosen].LogLikelihood - HeardPrior, 50));
        return Observed(costs.CountsThicker ? Laminar : Pits, Math.Log(Math.Max(others, 1e-30)));
    }

    private static double Observed(ReadOnlySpan<(double LogOdds, double Rate)> points, double logOdds)
    {
        if (logOdds <= points[0].LogOdds)
            return points[0].Rate;
        for (int k = 1; k < points.Length; k++)
        {
            if (logOdds > points[k].LogOdds)
                continue;
            double part = (logOdds - points[k - 1].LogOdds) / (points[k].LogOdds - points[k - 1].LogOdds);
            return points[k - 1].Rate * Math.Pow(points[k].Rate / points[k - 1].Rate, part);
        }
        return points[^1].Rate;
    }
}
