using EchoToThickness.Stacks;

namespace EchoToThickness.Storage.Native;

/// <summary>What positions must satisfy before a map can be drawn over them.</summary>
internal static class PositionRules
{
    public delegate void Check(ReadOnlySpan<double> positionsMetres, string file, string objectPath);

    /// <summary>Encoder positions run one way throughout, either way, without a repeat.</summary>
    /// <param name="positionsMetres">Shape [scan]; metres.</param>
    /// <param name="file">File, for the message.</param>
    /// <param name="objectPath">Object, for the message.</param>
    /// <exception cref="StackFormatException">A repeated position or a change of direction; names the first index.</exception>
    public static void Monotonic(ReadOnlySpan<double> positionsMetres, string file, string objectPath)
    {
        if (positionsMetres.Length < 2)
            return;
        bool rising = positionsMetres[^1] > positionsMetres[0];
        for (int i = 1; i < positionsMetres.Length; i++)
        {
            double before = positionsMetres[i - 1] * 1e3;
            double here = positionsMetres[i] * 1e3;
            if (here == before)
            {
                throw new StackFormatException(
                    FormattableString.Invariant(
                        $"Positions {i - 1} and {i} are the same ({here:G9} mm): the encoder stood still or a line was stored twice."
                    ),
                    file,
                    objectPath,
                    "leave one of the two scan positions out, or write the true positions."
                );
            }
            if (here > before != rising)
            {
                throw new StackFormatException(
                    FormattableString.Invariant(
                        $"The encoder runs backwards at position {i}: {before:G9} mm, then {here:G9} mm, while the scan as a whole {(rising ? "rises" : "falls")}."
                    ),
                    file,
                    objectPath,
                    "split the scan where it turns into two lines, or correct the positions."
                );
            }
        }
    }

    /// <summary>Index positions in any order, none twice.</summary>
    /// <param name="positionsMetres">Shape [beam]; metres.</param>
    /// <param name="file">File, for the message.</param>
    /// <param name="objectPath">Object, for the message.</param>
    /// <exception cref="StackFormatException">A repeated position; names both indexes.</exception>
    public static void Distinct(ReadOnlySpan<double> positionsMetres, string file, string objectPath)
    {
        Dictionary<double, int> seen = [];
        for (int i = 0; i < positionsMetres.Length; i++)
        {
            if (!seen.TryAdd(positionsMetres[i], i))
            {
                throw new StackFormatException(
                    FormattableString.Invariant(
                        $"Beams {seen[positionsMetres[i]]} and {i} have the same position ({positionsMetres[i] * 1e3:G9} mm)."
                    ),
                    file,
                    objectPath,
                    "write the true position of each beam."
                );
            }
        }
    }
}
