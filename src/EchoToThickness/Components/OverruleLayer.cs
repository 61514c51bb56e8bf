using System.Globalization;
using EchoToThickness.Pairing;

namespace EchoToThickness.Components;

/// <summary>Lays a reviewer's decisions over measured lines; the lines given stay as they are.</summary>
public static class OverruleLayer
{
    /// <summary>Applies decisions.</summary>
    /// <param name="lines">Lines as measured.</param>
    /// <param name="overrules">Decisions, in order.</param>
    /// <param name="kept">The wall that a grid kept beside the machine's choice, shape [scan, beam] of a line; null where the grid has no such layer.</param>
    /// <returns>New lines where something was decided, the same objects elsewhere, and how many cells each decision touched.</returns>
    /// <exception cref="ComponentException">A decision names a line or cell that is not there, or a layer that the grid does not hold.</exception>
    public static (IReadOnlyList<LineCells> Lines, IReadOnlyList<int> Cells) Apply(
        IReadOnlyList<LineCells> lines,
        IReadOnlyList<Overrule> overrules,
        Func<string, OverruleSource, float[]?> kept
    )
    {
        ArgumentNullException.ThrowIfNull(lines);
        ArgumentNullException.ThrowIfNull(overrules);
        ArgumentNullException.ThrowIfNull(kept);
        LineCells[] result = [.. lines];
        var copied = new bool[result.Length];
        var touched = new List<int>();
        for (int k = 0; k < overrules.Count; k++)
        {
            Overrule o = overrules[k];
            string where = string.Create(CultureInfo.InvariantCulture, $"overrule {k + 1}");
            int number = Find(lines, o, where);
            LineCells line = result[number];
            if (o.FirstScan > line.Scans - o.Scans || o.FirstBeam > line.Beams - o.Beams)
                throw new ComponentException(
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"Scan positions {o.FirstScan} to {(long)o.FirstScan + o.Scans - 1}, beams {o.FirstBeam} to {(long)o.FirstBeam + o.Beams - 1} are not in the {line.Scans} x {line.Beams} cells of line '{line.Name}'."
                    ),
                    where,
                    "check first_scan, scans, first_beam, beams; they count from 0."
                );
            if (!copied[number])
            {
                copied[number] = true;
                result[number] = line = line with
                {
                    ThicknessMetres = [.. line.ThicknessMetres],
                    Status = [.. line.Status],
                    UncertaintyMetres = [.. line.UncertaintyMetres],
                    NoiseMetres = [.. line.NoiseMetres],
                    WrongEcho = [.. line.WrongEcho],
                    SecondShare = [.. line.SecondShare],
                    ReflectorDepthMetres = [.. line.ReflectorDepthMetres],
                };
            }
            float[]? other =
                o.Kind != OverruleKind.ReGate
                    ? null
                    : kept(line.Name, o.Take)
                        ?? throw new ComponentException(
                            $"The grid does not hold the walls '{o.Take}'.",
                            where,
                            "switch the layer on in the procedure's [output] and measure again."
                        );
            for (int scan = o.FirstScan; scan < o.FirstScan + o.Scans; scan++)
            for (int beam = o.FirstBeam; beam < o.FirstBeam + o.Beams; beam++)
                Decide(line, scan * line.Beams + beam, o, other);
            touched.Add(o.Scans * o.Beams);
        }
        return (result, touched);
    }

    private static void Decide(LineCells line, int cell, Overrule o, float[]? other)
    {
        float wall =
            o.Kind == OverruleKind.Exclude ? float.NaN
            : o.Kind == OverruleKind.Replace ? (float)o.WallMetres!.Value
            : other![cell];
        line.ThicknessMetres[cell] = wall;
        // A cell out of play stays scanned: it counts as lost in the coverage, not as a gap.
        line.Status[cell] = float.IsFinite(wall) ? CellStatus.Measured : CellStatus.AmbiguousPairing;
        if (o.Kind == OverruleKind.Replace && line.UncertaintyMetres.Length > 0)
            line.UncertaintyMetres[cell] = (float)o.UncertaintyMetres!.Value;
        if (o.Kind == OverruleKind.Replace && line.NoiseMetres.Length > 0)
            line.NoiseMetres[cell] = (float)o.UncertaintyMetres!.Value;
        if (line.WrongEcho.Length > 0)
            line.WrongEcho[cell] = float.NaN;
        // The reviewer decided between the walls.
        if (line.SecondShare.Length > 0)
            line.SecondShare[cell] = 0;
        if (line.ReflectorDepthMetres.Length > 0)
            line.ReflectorDepthMetres[cell] = float.NaN;
    }

    private static int Find(IReadOnlyList<LineCells> lines, Overrule o, string where)
    {
        if (o.Line.Length == 0 && lines.Count == 1)
            return 0;
        for (int k = 0; k < lines.Count; k++)
            if (lines[k].Name == o.Line)
                return k;
        throw new ComponentException(
            $"There is no line '{o.Line}'.",
            where,
            "name one of " + string.Join(", ", lines.Take(20).Select(l => $"'{l.Name}'")) + "."
        );
    }
}
