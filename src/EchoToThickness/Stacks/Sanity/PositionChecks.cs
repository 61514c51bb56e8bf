using static System.FormattableString;

namespace EchoToThickness.Stacks.Sanity;

/// <summary>Checks of the positions of scan and index axis.</summary>
internal static class PositionChecks
{
    public static IEnumerable<SanityFinding> Run(StackInfo info)
    {
        if (info.ScanPositionsMetres is { } scan)
        {
            foreach (SanityFinding finding in Axis("scan", scan))
                yield return finding;
        }
        if (info.IndexPositionsMetres is { } index)
        {
            foreach (SanityFinding finding in Axis("index", index))
                yield return finding;
        }
    }

    private static IEnumerable<SanityFinding> Axis(string name, IReadOnlyList<double> metres)
    {
        int bad = metres.Count(p => !double.IsFinite(p));
        if (bad > 0)
        {
            yield return new(
                SanityCheck.NonFinitePositions,
                SanitySeverity.Fault,
                Invariant($"{bad} of {metres.Count} {name} positions are NaN or infinite."),
                "write the positions that were travelled, or leave the dataset out"
            );
            yield break;
        }
        int forward = 0;
        int backward = 0;
        int same = 0;
        int firstSame = -1;
        int firstForward = -1;
        int firstBackward = -1;
        for (int i = 1; i < metres.Count; i++)
        {
            double step = metres[i] - metres[i - 1];
            if (Math.Abs(step) < 1e-9)
            {
                same++;
                firstSame = firstSame < 0 ? i : firstSame;
            }
            else if (step > 0)
            {
                forward++;
                firstForward = firstForward < 0 ? i : firstForward;
            }
            else
            {
                backward++;
                firstBackward = firstBackward < 0 ? i : firstBackward;
            }
        }
        if (same > 0)
        {
            yield return new(
                SanityCheck.DuplicatePositions,
                SanitySeverity.Warning,
                Invariant(
                    $"{same} of {metres.Count} {name} positions repeat the one before (first: index {firstSame}, {metres[firstSame] * 1e3:G6} mm)."
                ),
                "the encoder stood still or lost counts: check the travel, or keep one A-scan a position"
            );
        }
        if (forward > 0 && backward > 0)
        {
            int first = forward >= backward ? firstBackward : firstForward;
            yield return new(
                SanityCheck.BackwardEncoder,
                SanitySeverity.Warning,
                Invariant(
                    $"The {name} positions run against their own direction in {Math.Min(forward, backward)} of {metres.Count - 1} steps (first: index {first}, {metres[first - 1] * 1e3:G6} to {metres[first] * 1e3:G6} mm)."
                ),
                "the encoder ran backwards or slipped: cells overlap there; scan the stretch again or cut it out"
            );
        }
        double span = metres.Max() - metres.Min();
        if (metres.Count > 1 && span / (metres.Count - 1) > 0.5)
        {
            yield return new(
                SanityCheck.FactUnit,
                SanitySeverity.Fault,
                Invariant($"The {name} positions span {span:G6} m, {span / (metres.Count - 1):G4} m a step."),
                "they are probably in millimetres: give unit = \"mm\""
            );
        }
    }
}
