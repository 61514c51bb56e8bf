using EchoToThickness.Echoes;
using EchoToThickness.Procedures;

namespace EchoToThickness.Pairing;

/// <summary>The candidates behind one interface, sorted by what they may be.</summary>
/// <param name="Walls">May be echoes of the wall.</param>
/// <param name="Couplant">Lie where the couplant layer echoes.</param>
/// <param name="SurelyCouplant">Those of <paramref name="Couplant"/> that are too strong, with the interface's polarity, to be anything else.</param>
/// <param name="Eligible">Those of <paramref name="Walls"/> that are strong enough to count as a reflector.</param>
/// <param name="StrongestFraction">Strongest of <paramref name="Walls"/>, fraction of full scale; 0 for none.</param>
internal readonly record struct TrainEchoes(
    CandidateSet Walls,
    CandidateSet Couplant,
    CandidateSet SurelyCouplant,
    CandidateSet Eligible,
    double StrongestFraction
)
{
    /// <summary>Sorts the candidates behind an interface into echoes that may be the wall's and echoes of the couplant layer.</summary>
    /// <param name="context">The A-scan.</param>
    /// <param name="front">The interface.</param>
    public static TrainEchoes Behind(TrainContext context, int front)
    {
        EchoRecord record = context.Record;
        TrainSettings settings = context.Settings;
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        EchoScale scale = record.Scale;
        EchoCandidate face = echoes[front];
        bool clipped = context.IsClipped(front);
        double strongestWall = settings.StrongestWallRatio * face.AmplitudeFraction;
        double floor = settings.EchoFloorRatio * face.AmplitudeFraction;
        CandidateSet walls = CandidateSet.Empty;
        CandidateSet couplant = CandidateSet.Empty;
        CandidateSet sure = CandidateSet.Empty;
        for (int j = 0; j < echoes.Length; j++)
        {
            double distance = echoes[j].PositionSamples - face.PositionSamples;
            double amplitude = echoes[j].AmplitudeFraction;
            if (distance < scale.SmallestSpacing || context.Interfaces.Contains(j))
                continue;
            if (
                context.IsCoatingEcho(face.PositionSamples, j, 5, out _)
                && IsCoatingStrength(
                    amplitude / face.AmplitudeFraction,
                    EchoScale.Round(distance / context.CoatingSamples)
                )
            )
                continue;
            if (!clipped)
            {
                if (amplitude < floor)
                    continue;
                // Ring-down of the interface: no echo of the wall is that strong, and no couplant echo that early.
                // Unless it repeats: walls of light metals and plastics are that strong, ring-down does not come in echoes.
                if (
                    context.HasSingleFront
                    && distance < 6 * scale.Period
                    && amplitude > strongestWall
                    && !LayerEcho.IsRepeatedWall(record, front, j)
                )
                    continue;
                if (context.HasSingleFront && LayerEcho.IsReverberation(record, front, j))
                {
                    couplant = couplant.With(j);
                    sure = sure.With(j);
                    continue;
                }
                if (
                    context.HasSingleFront
                    && amplitude > TrainSearch.CouplantFraction * face.AmplitudeFraction
                    && record.Sign(front, j) > 0.5
                )
                {
                    couplant = couplant.With(j);
                    sure = sure.With(j);
                    continue;
                }
            }
            // A wall's echo under the couplant's turns its phase: what is stronger than any wall there is still the couplant's.
            bool isStrong = !clipped && amplitude > TrainSearch.CouplantFraction * face.AmplitudeFraction;
            double sign =
                clipped ? 0.0
                : isStrong ? ClearlyInverted
                : 0.2;
            if (context.IsAtCouplantEcho(front, j) && record.Sign(front, j) > sign)
                couplant = couplant.With(j);
            else
                walls = walls.With(j);
        }
        double strongest = 0;
        for (int j = 0; j < echoes.Length; j++)
        {
            if (walls.Contains(j))
                strongest = Math.Max(strongest, echoes[j].AmplitudeFraction);
        }
        CandidateSet eligible = CandidateSet.Empty;
        for (int j = 0; j < echoes.Length; j++)
        {
            if (walls.Contains(j) && echoes[j].AmplitudeFraction >= TrainSearch.EligibleFraction * strongest)
                eligible = eligible.With(j);
        }
        return new TrainEchoes(walls, couplant, sure, eligible, strongest);
    }

    /// <summary>Cosine of the phase against the interface under which an echo at a couplant echo's place is a strong wall all the same.</summary>
    private const double ClearlyInverted = -0.5;

    private static bool IsCoatingStrength(double ratio, int order) =>
        ratio < 0.6 * Math.Pow(0.5, order - 1) && ratio > 0.3 * Math.Pow(0.2, order);
}
