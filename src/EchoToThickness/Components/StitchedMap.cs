using EchoToThickness.Pairing;

namespace EchoToThickness.Components;

/// <summary>Lines put together on the component: one value a cell, the smallest credible one beside it, and the cells both came from.</summary>
public sealed class StitchedMap
{
    private readonly int[] _starts;
    private readonly int[] _line;
    private readonly int[] _cell;

    internal StitchedMap(
        MapRaster raster,
        StitchSettings settings,
        IReadOnlyList<LineCells> lines,
        int[] starts,
        int[] line,
        int[] cell
    )
    {
        Raster = raster;
        Settings = settings;
        Lines = lines;
        _starts = starts;
        _line = line;
        _cell = cell;
        int count = raster.Count;
        ThicknessMetres = new double[count];
        SmallestMetres = new double[count];
        UncertaintyMetres = new double[count];
        NoiseMetres = new double[count];
        WrongEcho = new double[count];
        AreaSquareMetres = new double[count];
        Status = new CellStatus[count];
    }

    /// <summary>Raster.</summary>
    public MapRaster Raster { get; }

    /// <summary>Settings in full.</summary>
    public StitchSettings Settings { get; }

    /// <summary>The lines, in order.</summary>
    public IReadOnlyList<LineCells> Lines { get; }

    /// <summary>Wall by the rule, metres; NaN where none.</summary>
    public double[] ThicknessMetres { get; }

    /// <summary>Smallest credible wall of the cells that fall here, metres; NaN where none.</summary>
    public double[] SmallestMetres { get; }

    /// <summary>Combined standard uncertainty, metres.</summary>
    public double[] UncertaintyMetres { get; }

    /// <summary>Its independent part, metres.</summary>
    public double[] NoiseMetres { get; }

    /// <summary>Probability of a wrong echo; NaN where not known.</summary>
    public double[] WrongEcho { get; }

    /// <summary>True area of the cell, square metres.</summary>
    public double[] AreaSquareMetres { get; }

    /// <summary>What became of the cell.</summary>
    public CellStatus[] Status { get; }

    /// <summary>Measured or attempted cells that fall into a cell or cover its centre.</summary>
    /// <param name="cell">Cell of the map.</param>
    public int ContributorCount(int cell) => _starts[cell + 1] - _starts[cell];

    /// <summary>A contributing cell: line in <see cref="Lines"/>, and <c>scan * Beams + beam</c> in it.</summary>
    /// <param name="cell">Cell of the map.</param>
    /// <param name="number">Contributor, from 0.</param>
    public (int Line, int Cell) Contributor(int cell, int number) =>
        (_line[_starts[cell] + number], _cell[_starts[cell] + number]);

    /// <summary>The measured cell whose wall a cell of the map shows, or one that was attempted there; null where nothing was scanned.</summary>
    /// <param name="cell">Cell of the map.</param>
    public CellSource? SourceOf(int cell)
    {
        CellSource? source = null;
        double nearest = double.PositiveInfinity;
        for (int k = 0; k < ContributorCount(cell); k++)
        {
            (int l, int from) = Contributor(cell, k);
            LineCells line = Lines[l];
            double away = line.IsMeasured(from)
                ? Math.Abs(line.ThicknessMetres[from] - ThicknessMetres[cell])
                : double.NaN;
            if (source is not null && !(away < nearest))
                continue;
            source = new CellSource(line.Name, from / line.Beams, from % line.Beams);
            nearest = double.IsNaN(away) ? double.PositiveInfinity : away;
        }
        return source;
    }
}
