namespace EchoToThickness.Components;

/// <summary>Finds the smallest walls that neighbouring cells bear out.</summary>
/// <remarks>
/// A beam is wider than a cell, so a real thin place shows in more than one cell of a line. Where two walls meet under the beam their echoes overlap and
/// single cells read a wall that is neither. A wall is borne out when all four cells beside it on its own line agree to 0.1 mm or three times their
/// noise, whichever is more. Common sense, no source; a sharp pit smaller than three cells fails it, so it stands beside the smallest measured wall and
/// never replaces it.
/// </remarks>
public sealed class BorneOutWalls
{
    /// <summary>Largest difference that counts as agreement, metres.</summary>
    public const double AgreementMetres = 0.1e-3;

    private readonly StitchedMap _map;
    private readonly bool[][] _borneOut;

    /// <summary>Looks at all lines of a map.</summary>
    /// <param name="map">The map.</param>
    public BorneOutWalls(StitchedMap map)
    {
        ArgumentNullException.ThrowIfNull(map);
        _map = map;
        _borneOut = [.. map.Lines.Select(Of)];
    }

    /// <summary>The smallest borne-out wall of the map; null where none is.</summary>
    public BorneOutWall? Smallest() => SmallestOf(Enumerable.Range(0, _map.Raster.Count));

    /// <summary>The smallest borne-out wall of some cells of the map; null where none is.</summary>
    /// <param name="cells">Cells of the map.</param>
    public BorneOutWall? SmallestOf(IEnumerable<int> cells)
    {
        ArgumentNullException.ThrowIfNull(cells);
        (int Line, int Cell) best = (-1, -1);
        float smallest = float.PositiveInfinity;
        foreach (int cell in cells)
            for (int k = 0; k < _map.ContributorCount(cell); k++)
            {
                (int l, int source) = _map.Contributor(cell, k);
                if (!_borneOut[l][source] || !(_map.Lines[l].ThicknessMetres[source] < smallest))
                    continue;
                (smallest, best) = (_map.Lines[l].ThicknessMetres[source], (l, source));
            }
        if (best.Line < 0)
            return null;
        LineCells line = _map.Lines[best.Line];
        (int scan, int beam) = (best.Cell / line.Beams, best.Cell % line.Beams);
        return new BorneOutWall(
            smallest,
            line.Uncertainty(best.Cell),
            new LineGeometry(_map.Raster.Surface, line).PlaceOf(scan, beam),
            new CellSource(line.Name, scan, beam)
        );
    }

    private static bool[] Of(LineCells line)
    {
        var borneOut = new bool[line.ThicknessMetres.Length];
        for (int scan = 1; scan < line.Scans - 1; scan++)
        for (int beam = 1; beam < line.Beams - 1; beam++)
        {
            int cell = scan * line.Beams + beam;
            borneOut[cell] =
                line.IsMeasured(cell)
                && Agrees(line, cell, cell - 1)
                && Agrees(line, cell, cell + 1)
                && Agrees(line, cell, cell - line.Beams)
                && Agrees(line, cell, cell + line.Beams);
        }
        return borneOut;
    }

    private static bool Agrees(LineCells line, int cell, int other) =>
        line.IsMeasured(other)
        && Math.Abs(line.ThicknessMetres[other] - line.ThicknessMetres[cell])
            <= Math.Max(AgreementMetres, 3 * (line.Noise(cell) + line.Noise(other)));
}
