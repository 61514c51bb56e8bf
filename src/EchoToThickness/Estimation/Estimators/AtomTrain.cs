namespace EchoToThickness.Estimation.Estimators;

/// <summary>The spacing that a set of timed echoes behind the interface supports best.</summary>
internal static class AtomTrain
{
    /// <summary>Decay assumed while the spacing is chosen; steel under water without loss has 0.94.</summary>
    private const double Decay = 0.85;

    /// <summary>
    /// Tries every inverted echo as order 1, 2 and 3. A spacing is worth <c>(sum rho^(n-1) a_n)^2 / sum rho^(2n-2)</c>, n over all orders that the
    /// searched stretch holds, a_n the strength of the echo within 0.6 periods of order n, 0 where there is none: the log likelihood ratio of
    /// such a train. The spacing itself is the line through the interface, weights a^2.
    /// </summary>
    public static SpacingEstimate Best(
        EstimationWorkspace workspace,
        ReadOnlySpan<double> times,
        ReadOnlySpan<double> amplitudes,
        double stretch
    )
    {
        double best = 0;
        double bestSpacing = double.NaN;
        double rival = 0;
        double rivalSpacing = double.NaN;
        for (int i = 0; i < times.Length; i++)
        {
            if (amplitudes[i] >= 0)
                continue;
            for (int order = 1; order <= 3; order++)
            {
                double spacing = times[i] / order;
                if (spacing < workspace.Low - 1 || spacing > workspace.High + 1)
                    continue;
                double worth = Worth(workspace, times, amplitudes, spacing, stretch);
                bool same = Math.Abs(spacing - bestSpacing) < 1.5 * workspace.Scale.Period;
                if (worth > best)
                {
                    if (!same)
                        (rival, rivalSpacing) = (best, bestSpacing);
                    (best, bestSpacing) = (worth, spacing);
                }
                else if (!same && worth > rival)
                    (rival, rivalSpacing) = (worth, spacing);
            }
        }
        if (!(best > 0))
            return SpacingEstimate.None;
        return Line(workspace, times, amplitudes, bestSpacing, stretch) with
        {
            RivalSamples = rival > 0 ? rivalSpacing : double.NaN,
            RivalShare = rival / best,
        };
    }

    private static double Worth(
        EstimationWorkspace workspace,
        ReadOnlySpan<double> times,
        ReadOnlySpan<double> amplitudes,
        double spacing,
        double stretch
    )
    {
        double sum = 0;
        double squares = 0;
        double weight = 1;
        for (int n = 1; n == 1 || n * spacing < stretch; n++, weight *= Decay)
        {
            int member = Nearest(times, amplitudes, n * spacing, workspace.Scale.Tolerance);
            sum += member >= 0 ? weight * -amplitudes[member] : 0;
            squares += weight * weight;
        }
        return sum > 0 ? sum * sum / squares : 0;
    }

    private static SpacingEstimate Line(
        EstimationWorkspace workspace,
        ReadOnlySpan<double> times,
        ReadOnlySpan<double> amplitudes,
        double spacing,
        double stretch
    )
    {
        double cross = 0;
        double square = 0;
        double energy = 0;
        double first = 0;
        int firstOrder = 0;
        double end = 0;
        int last = 0;
        for (int n = 1; n == 1 || n * spacing < stretch; n++)
        {
            int member = Nearest(times, amplitudes, n * spacing, workspace.Scale.Tolerance);
            if (member < 0)
                continue;
            double power = amplitudes[member] * amplitudes[member];
            cross += power * n * times[member];
            square += power * n * n;
            energy += power;
            spacing = cross / square;
            if (last == 0)
                (first, firstOrder) = (-amplitudes[member], n);
            (end, last) = (-amplitudes[member], n);
        }
        double front = workspace.Record.Envelope[workspace.Front];
        double decay = last > firstOrder ? Math.Clamp(Math.Pow(end / first, 1.0 / (last - firstOrder)), 0.2, 1) : 1;
        return SpacingEstimate.None with
        {
            Found = true,
            SpacingSamples = spacing,
            BoundSamples = Math.Sqrt(1 / square + energy / square * energy / square) * workspace.TimeBound(front),
            SignalRatio = Math.Sqrt(energy * workspace.Spectrum.Energy) / workspace.WhiteNoiseFraction,
            FirstOrder = 0,
            LastOrder = last,
            Decay = decay,
            WallFraction = first * front,
        };
    }

    private static int Nearest(
        ReadOnlySpan<double> times,
        ReadOnlySpan<double> amplitudes,
        double time,
        double tolerance
    )
    {
        int best = -1;
        for (int i = 0; i < times.Length; i++)
        {
            double distance = Math.Abs(times[i] - time);
            if (amplitudes[i] < 0 && distance < tolerance && (best < 0 || distance < Math.Abs(times[best] - time)))
                best = i;
        }
        return best;
    }
}
