using EchoToThickness.Procedures;

namespace EchoToThickness.Estimation.Estimators;

/// <summary>
/// Maximum likelihood of the whole train with one wall: <c>W(f) = -b S(f) sum over n of rho^(n-1) z^n</c>, <c>z = exp(-j w tau)</c>, n over all echoes
/// that end inside the record. A comb over the matched filter finds tau, Levenberg-Marquardt with analytic derivatives finishes.
/// </summary>
/// <param name="fitPhase">Whether the walls may differ from the reference by one phase.</param>
/// <param name="fitAttenuation">Whether the echoes may lose high frequencies from bounce to bounce, <c>z</c> times <c>exp(-q (w - w0) / w0)</c>.</param>
/// <remarks>
/// The sum is closed, <c>z (1 - u^M) / (1 - u)</c> with <c>u = rho z</c>, so a step costs the same for two echoes and for forty. Least squares in the
/// band is maximum likelihood in white noise (Kay 1993, section 7.5). Half and double walls lose half of the comb's log likelihood, since it
/// charges for echoes that are not there: <c>C^2 / G</c>, C the sum of the matched filter at n tau with weights rho^(n-1), G their squares.
/// </remarks>
public sealed class JointFitEstimator(bool fitPhase = false, bool fitAttenuation = false) : IThicknessEstimator
{
    private const int MaximumIterations = 25;

    /// <summary>The comb's step: the phase of its last echo moves by this fraction of a period.</summary>
    private const double StepFraction = 0.1;

    private const int MostEchoes = 64;

    /// <summary>One slow and one fast decay for the comb; the fit finds the value between.</summary>
    private static readonly double[] Decays = [0.92, 0.6];

    /// <inheritdoc/>
    public EstimationMethod Method => EstimationMethod.JointFit;

    /// <inheritdoc/>
    public SpacingEstimate Estimate(EstimationWorkspace workspace)
    {
        ArgumentNullException.ThrowIfNull(workspace);
        EchoSpectrum spectrum = workspace.Spectrum;
        if (!(spectrum.Energy > 0) || !(workspace.High > workspace.Low))
            return SpacingEstimate.None;
        JointTrain train = Comb(workspace, spectrum, out double rival, out double rivalShare);
        if (!(train.Strength > 0))
            return SpacingEstimate.None;
        double variance = Refine(spectrum, ref train, out double squares);
        double front = workspace.Record.Envelope[workspace.Front];
        // What is left after the fit is the noise (and what the model does not know): each bin has the variance N sigma^2. The
        // spacing's is sigma^2 (L / 2) (J^T J)^-1, with the interface's own time on top.
        double noise = squares / ((double)spectrum.BinCount * spectrum.NoiseSamples);
        double own = workspace.TimeBound(front) / workspace.WhiteNoiseFraction * Lever(train);
        double bound = Math.Sqrt(noise * (variance * spectrum.Length / 2 + own * own));
        return SpacingEstimate.None with
        {
            Found =
                train.Strength > 0
                && Math.Abs(train.Spacing - Math.Clamp(train.Spacing, workspace.Low, workspace.High))
                    < workspace.Scale.Period,
            SpacingSamples = train.Spacing,
            BoundSamples = bound,
            SignalRatio = Math.Sqrt(TrainEnergy(train) * spectrum.Energy / noise),
            FirstOrder = 0,
            LastOrder = train.Echoes,
            Decay = train.Decay,
            WallFraction = train.Strength * front,
            RivalSamples = rival,
            RivalShare = rivalShare,
        };
    }

    private static double TrainEnergy(in JointTrain train)
    {
        double power = train.Strength * train.Strength;
        double sum = 0;
        for (int n = 0; n < train.Echoes; n++, power *= train.Decay * train.Decay)
            sum += power;
        return sum;
    }

    /// <summary>How much the interface's time moves the spacing: <c>sum n a^2 / sum n^2 a^2</c>.</summary>
    private static double Lever(in JointTrain train)
    {
        double power = 1;
        double first = 0;
        double second = 0;
        for (int n = 1; n <= train.Echoes; n++, power *= train.Decay * train.Decay)
        {
            first += n * power;
            second += (double)n * n * power;
        }
        return first / second;
    }

    /// <summary>The best comb of the range and its rival, more than a period and a half away.</summary>
    private static JointTrain Comb(
        EstimationWorkspace workspace,
        EchoSpectrum spectrum,
        out double rival,
        out double rivalShare
    )
    {
        double end = spectrum.Reach - 1.2 * workspace.Scale.PulseSigma;
        double period = workspace.Scale.Period;
        double omega = 2 * Math.PI / period;
        // The carrier taken off once: what is left is slow and may be interpolated linearly.
        int lags = Math.Min(spectrum.Reach + 2, spectrum.Length);
        Span<double> real = workspace.Scores.AsSpan(0, lags);
        Span<double> imaginary = workspace.Scores.AsSpan(lags, lags);
        Demodulate(spectrum, omega, real, imaginary);
        Span<double> scores = workspace.Scores.AsSpan(2 * lags);
        JointTrain best = default;
        double highest = 0;
        int steps = 0;
        int room = scores.Length / 2;
        Span<double> sums = stackalloc double[Decays.Length];
        Span<double> squares = stackalloc double[Decays.Length];
        for (double spacing = workspace.Low; spacing <= workspace.High && steps < room; steps++)
        {
            int echoes = Math.Clamp((int)(end / spacing), 1, MostEchoes);
            At(real, imaginary, spacing, echoes, omega, sums, squares);
            double score = 0;
            for (int d = 0; d < Decays.Length; d++)
            {
                double value = sums[d] > 0 ? sums[d] * sums[d] / squares[d] : 0;
                score = Math.Max(score, value);
                if (value > highest)
                {
                    highest = value;
                    best = new JointTrain(spacing, sums[d] / squares[d] / spectrum.Energy, Decays[d], 0, 0, echoes);
                }
            }
            scores[2 * steps] = spacing;
            scores[2 * steps + 1] = score;
            spacing += StepFraction * period / echoes;
        }
        rival = double.NaN;
        double second = 0;
        for (int i = 0; i < steps; i++)
        {
            if (Math.Abs(scores[2 * i] - best.Spacing) > 1.5 * period && scores[2 * i + 1] > second)
                (second, rival) = (scores[2 * i + 1], scores[2 * i]);
        }
        rivalShare = highest > 0 ? second / highest : 0;
        return best;
    }

    private static void Demodulate(EchoSpectrum spectrum, double omega, Span<double> real, Span<double> imaginary)
    {
        (double ds, double dc) = Math.SinCos(-omega);
        (double s, double c) = (0, 1);
        for (int i = 0; i < real.Length; i++)
        {
            (double r, double m) = (spectrum.MatchedReal[i], spectrum.MatchedImaginary[i]);
            real[i] = r * c - m * s;
            imaginary[i] = r * s + m * c;
            (c, s) = (c * dc - s * ds, s * dc + c * ds);
        }
    }

    /// <summary>Weighted sums of the inverted matched filter at the multiples of a spacing, one for each decay.</summary>
    private static void At(
        ReadOnlySpan<double> real,
        ReadOnlySpan<double> imaginary,
        double spacing,
        int echoes,
        double omega,
        Span<double> sums,
        Span<double> squares
    )
    {
        (double ds, double dc) = Math.SinCos(omega * spacing);
        (double s, double c) = (0, 1);
        (double slow, double fast) = (1, 1);
        (double slowSum, double fastSum) = (0, 0);
        (double slowSquares, double fastSquares) = (0, 0);
        for (int n = 1; n <= echoes; n++)
        {
            (c, s) = (c * dc - s * ds, s * dc + c * ds);
            double at = n * spacing;
            int i = (int)at;
            double f = at - i;
            double r = real[i] + f * (real[i + 1] - real[i]);
            double m = imaginary[i] + f * (imaginary[i + 1] - imaginary[i]);
            double value = m * s - r * c;
            slowSum += slow * value;
            fastSum += fast * value;
            slowSquares += slow * slow;
            fastSquares += fast * fast;
            slow *= Decays[0];
            fast *= Decays[1];
        }
        (sums[0], sums[1]) = (slowSum, fastSum);
        (squares[0], squares[1]) = (slowSquares, fastSquares);
    }

    /// <summary>Levenberg-Marquardt on spacing, strength, decay and what else is asked for.</summary>
    /// <param name="spectrum">Record and reference.</param>
    /// <param name="train">Start, becomes the fit.</param>
    /// <param name="squares">Sum of squared residuals.</param>
    /// <returns>Diagonal element of the inverse normal matrix for the spacing.</returns>
    private double Refine(EchoSpectrum spectrum, ref JointTrain train, out double squares)
    {
        bool phase = fitPhase && train.Echoes > 1;
        bool attenuation = fitAttenuation && train.Echoes > 1;
        int unknowns = 2 + (train.Echoes > 1 ? 1 : 0) + (phase ? 1 : 0) + (attenuation ? 1 : 0);
        Span<double> normal = stackalloc double[25];
        Span<double> damped = stackalloc double[25];
        Span<double> gradient = stackalloc double[5];
        normal = normal[..(unknowns * unknowns)];
        damped = damped[..(unknowns * unknowns)];
        gradient = gradient[..unknowns];
        Span<double> step = stackalloc double[5];
        step = step[..unknowns];
        double lambda = 1e-3;
        squares = JointModel.Evaluate(spectrum, train, phase, attenuation, normal, gradient);
        for (int iteration = 0; iteration < MaximumIterations; iteration++)
        {
            normal.CopyTo(damped);
            gradient.CopyTo(step);
            for (int p = 0; p < unknowns; p++)
                damped[p * unknowns + p] *= 1 + lambda;
            if (!NormalEquations.Solve(damped, step))
                break;
            JointTrain trial = train.Moved(step, phase, attenuation);
            double next = JointModel.Evaluate(spectrum, trial, phase, attenuation, [], []);
            if (!(next <= squares))
            {
                lambda *= 10;
                if (lambda > 1e6)
                    break;
                continue;
            }
            bool done = squares - next <= 1e-10 * squares;
            train = trial;
            squares = JointModel.Evaluate(spectrum, train, phase, attenuation, normal, gradient);
            lambda = Math.Max(lambda / 10, 1e-12);
            if (done)
                break;
        }
        normal.CopyTo(damped);
        return NormalEquations.FirstOfInverse(damped, step);
    }
}
