using EchoToThickness.Echoes;
using EchoToThickness.Evidence;

namespace EchoToThickness.Pairing;

// The log likelihood of one wall, and its constants.
public sealed partial class TrainEvidence
{
    /// <summary>Echoes of higher order may be missing for many reasons.</summary>
    private const int LastExpected = 6;

    /// <summary>Walls up to this many periods compete for a place.</summary>
    private const double RangePeriods = 60;

    /// <summary>Chance, a period, of a reflector that is no wall at <see cref="TailFraction"/> of the interface.</summary>
    private const double TailRate = 0.004;

    private const double TailFraction = 0.02;

    /// <summary>Spread of an echo's strength about what its train makes expected, decibels.</summary>
    private const double SpreadDecibels = 6;

    /// <summary>An echo may be missing against every expectation (interference, a scattering spot): log of the chance.</summary>
    private const double LongestMissing = -6;

    /// <summary>Deviation of an echo from even spacing, in periods.</summary>
    private const double UnevenPeriods = 0.08;

    /// <summary>Chance of the wrong sign of polarity without noise: diffraction and scatter turn the phase.</summary>
    private const double WrongSign = 0.05;

    /// <summary>Peak-to-noise ratio from which the sign is told safely; the strongest lag of a noisy correlation is half a cycle off as often as not.</summary>
    private const double SureSign = 12;

    /// <summary>Decibels from one echo to the next that walls show: rough ones 6 to 20, flat ones 1 to 4.</summary>
    private const double SteepestSlope = -12;

    private const double FlattestSlope = -0.5;

    /// <summary>Slope, and spread of the next echo's strength, where a single echo says nothing of its train.</summary>
    private const double LoneSlope = -8;

    private const double LoneSpreadDecibels = 10;

    /// <summary>Chance, a period, of an echo up to <see cref="StrongestCouplant"/> of the interface at a place where the couplant layer echoes.</summary>
    private const double CouplantRate = 0.15;

    private const double StrongestCouplant = 0.25;

    /// <summary>Log of the chance that another echo lies over an expected one.</summary>
    private const double Hidden = -0.7;

    /// <summary>Density of an evenly spaced echo at its place over the density of clutter: <c>1.2 / (sqrt(2 pi) 0.08)</c>.</summary>
    private const double EvenSpacing = 1.79;

    /// <summary>Rise from one echo to the next, decibels, that interference brings about.</summary>
    private const double RiseDecibels = 2.5;

    private const double LargestRisePenalty = 2;

    private double Score(TrainContext context, int front, double spacing, CandidateSet couplant)
    {
        EchoRecord record = context.Record;
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        EchoScale scale = record.Scale;
        double start = echoes[front].PositionSamples;
        double face = echoes[front].AmplitudeFraction;
        bool clipped = context.IsClipped(front);
        (double level, double slope, bool isLone) = Decay(echoes);
        double sum = -Math.Log(RangePeriods);
        bool isFirst = true;
        double before = double.PositiveInfinity;
        for (int order = 1; order <= Orders; order++)
        {
            double position = start + order * spacing;
            if (position > record.Length - 1 - scale.PulseHalfWindow)
                break;
            int q = _member[order];
            double expected = level + order * slope;
            if (q < 0)
            {
                if (q == Covered)
                    sum += Hidden;
                else if (order <= LastExpected)
                    sum += Missing(context, position, expected, isLone && !isFirst);
                continue;
            }
            double amplitude = echoes[q].AmplitudeFraction;
            double ratio = amplitude / record.NoiseFraction;
            double clutter = Math.Exp(-0.5 * ratio * ratio) + TailRate * Math.Min(1, TailFraction * face / amplitude);
            // Where the couplant layer echoes, an echo of the interface's polarity is no surprise.
            if (amplitude < StrongestCouplant * face && context.IsAtCouplantEcho(front, q))
                clutter += CouplantRate * (WrongSign + (1 - WrongSign) * 0.5 * (1 + record.Sign(front, q)));
            sum -= Math.Log(clutter);
            sum += Polarity(record.Sign(front, q), ratio, clipped);
            sum -= 0.5 * Square((Decibels(amplitude) - expected) / SpreadDecibels);
            double rise = Decibels(amplitude / before);
            if (rise > 0)
                sum -= Math.Min(0.5 * Square(rise / RiseDecibels), LargestRisePenalty);
            before = amplitude;
            if (!isFirst)
            {
                double off = (echoes[q].PositionSamples - position) / (UnevenPeriods * scale.Period);
                sum += EvenSpacing - Math.Min(0.5 * off * off, 6);
            }
            isFirst = false;
        }
        double alternation = Alternation(context, front) / RoughAlternation;
        return sum - Math.Min(0.5 * alternation * alternation, LargestAlternationPenalty);
    }

    /// <summary>
    /// How far even echoes of the train gathered stand over odd ones: the log of <c>(a2 / a1) (a2 / a3) (a4 / a3)</c>, which is the fall from one
    /// echo to the next, under 0, for any even fall, and large where a reflector lies at half of a wall's depth, whose echoes lie over its
    /// even ones. 0 where noise and a spread of 1 dB could bring it about, or an echo of the couplant layer.
    /// </summary>
    private double Alternation(TrainContext context, int front)
    {
        EchoRecord record = context.Record;
        if (_member[1] < 0 || _member[2] < 0 || _member[4] < 0)
            return 0;
        ReadOnlySpan<double> powers = [-1, 2, -2, 1];
        double sum = 0;
        double variance = 0;
        for (int order = 1; order <= powers.Length; order++)
        {
            int q = _member[order];
            if (q >= 0 && context.IsAtCouplantEcho(front, q))
                return 0;
            double amplitude = q >= 0 ? record.Candidates[q].AmplitudeFraction : record.CandidateLevelFraction;
            double noise = q >= 0 ? record.NoiseFraction / amplitude : 0;
            sum += powers[order - 1] * Math.Log(amplitude);
            variance += Square(powers[order - 1]) * (Square(EvenSpread) + Square(noise));
        }
        return sum > AlternationDeviations * Math.Sqrt(variance) ? sum : 0;
    }

    /// <summary>Spread of a flat wall's echoes about an even fall, as a fraction: 1 dB.</summary>
    private const double EvenSpread = 0.12;

    /// <summary>Deviations from no fall at all that noise and spread do not reach: one in 30,000, the fall not counted.</summary>
    private const double AlternationDeviations = 4;

    /// <summary>Standard deviation of the alternation of rough walls, whose echoes spread by 3 dB: <c>sqrt(10) 0.35</c>.</summary>
    private const double RoughAlternation = 1.1;

    private const double LargestAlternationPenalty = 6;

    /// <summary>Log likelihood ratio of the wall's polarity; a noisy sign says little.</summary>
    private static double Polarity(double sign, double ratio, bool clipped)
    {
        double wrong = WrongSign + (0.5 - WrongSign) * Math.Exp(-Square(ratio / SureSign));
        double polarity = Math.Log(2 * (wrong + (1 - 2 * wrong) * 0.5 * (1 - sign)));
        return clipped ? 0.5 * polarity : polarity;
    }

    /// <summary>Straight line through the members' decibels over order, its slope held to what walls do; the usual slope for a lone echo.</summary>
    private (double Level, double Slope, bool IsLone) Decay(ReadOnlySpan<EchoCandidate> echoes)
    {
        int count = 0;
        double orders = 0;
        double levels = 0;
        for (int order = 1; order <= Orders; order++)
        {
            if (_member[order] < 0)
                continue;
            count++;
            orders += order;
            levels += Decibels(echoes[_member[order]].AmplitudeFraction);
        }
        orders /= count;
        levels /= count;
        double spread = 0;
        double product = 0;
        for (int order = 1; order <= Orders; order++)
        {
            if (_member[order] < 0)
                continue;
            spread += Square(order - orders);
            product += (order - orders) * (Decibels(echoes[_member[order]].AmplitudeFraction) - levels);
        }
        double slope = count < 2 ? LoneSlope : Math.Clamp(product / spread, SteepestSlope, FlattestSlope);
        return (levels - slope * orders, slope, count < 2);
    }

    /// <summary>Log of the chance that an expected echo is not among the candidates.</summary>
    private static double Missing(TrainContext context, double position, double expectedDecibels, bool isUncertain)
    {
        EchoRecord record = context.Record;
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        double expected = Math.Pow(10, expectedDecibels / 20);
        double level = record.CandidateLevelFraction;
        double weakest = double.PositiveInfinity;
        for (int q = 0; q < echoes.Length; q++)
        {
            weakest = Math.Min(weakest, echoes[q].AmplitudeFraction);
            if (
                Math.Abs(echoes[q].PositionSamples - position) < 1.5 * record.Scale.Period
                && echoes[q].AmplitudeFraction > 0.7 * expected
            )
                return Hidden;
        }
        if (record.Count == EchoRecord.MaximumCandidates)
            level = Math.Max(level, weakest);
        double z = (expectedDecibels - Decibels(level)) / (isUncertain ? LoneSpreadDecibels : SpreadDecibels);
        // Logistic approximation of the normal distribution function, within 0.01.
        return Math.Max(LongestMissing, -Math.Log(1 + Math.Exp(Math.Min(1.702 * z, 50))));
    }

    private static double Decibels(double fraction) => 20 * Math.Log10(fraction);

    private static double Square(double value) => value * value;
}
