namespace EchoToThickness.Studies.Tune;

/// <summary>From scores by stack to figures and loss.</summary>
internal sealed class LossRule(IReadOnlyList<Objective> objectives, JudgeSettings judge)
{
    /// <summary>Stands for a stated uncertainty that nothing was measured to hold against: a factor of twenty.</summary>
    private const double NoCalibration = 3;

    public RuleSetResult Of(RuleSet ruleSet, IReadOnlyList<WindowScore> scores)
    {
        var mean = new double[objectives.Count];
        var worst = new double[objectives.Count];
        var value = new double[objectives.Count];
        double loss = 0;
        bool keeps = true;
        for (int k = 0; k < objectives.Count; k++)
        {
            double[] each = [.. scores.Select(s => FigureOf(s, objectives[k].Figure)).Where(v => !double.IsNaN(v))];
            mean[k] = each.Length > 0 ? each.Average() : double.NaN;
            worst[k] = each.Length > 0 ? each.Max() : double.NaN;
            value[k] = (1 - judge.WorstShare) * mean[k] + judge.WorstShare * worst[k];
            if (!double.IsNaN(value[k]))
                loss += value[k] / objectives[k].Per;
            if (objectives[k].Limit is { } limit && worst[k] > limit)
                keeps = false;
        }
        return new RuleSetResult
        {
            RuleSet = ruleSet,
            Scores = scores,
            Mean = mean,
            Worst = worst,
            Value = value,
            Loss = loss,
            KeepsLimits = keeps,
        };
    }

    /// <summary>A figure of one stack; NaN where the stack has nothing of the kind, the worst there can be where nothing was measured.</summary>
    public double FigureOf(WindowScore score, TuneFigure figure)
    {
        double value = score.Of(figure);
        if (!double.IsNaN(value) && !double.IsInfinity(value))
            return value;
        return figure switch
        {
            TuneFigure.Bias or TuneFigure.Rmse or TuneFigure.RmseSound or TuneFigure.P95 => judge.GrossMetres,
            TuneFigure.Calibration => NoCalibration,
            TuneFigure.Disagreement
            or TuneFigure.Jumps
            or TuneFigure.Repeatability when score[ScoreCount.Cells] > 0 && score[ScoreCount.Measured] == 0 => 1,
            _ => double.NaN,
        };
    }
}
