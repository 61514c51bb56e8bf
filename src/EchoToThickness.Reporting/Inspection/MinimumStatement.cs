using EchoToThickness.Components;
using EchoToThickness.Statistics.Describe;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>What may be said about the smallest wall of the metal that was measured, when the echo of the smallest measured wall may be the wrong one.</summary>
/// <remarks>
/// <para>The interval of <see cref="MinimumWall"/> holds if the echo is the right one and no other wall stands under the beam. Where the cells beside do not bear
/// the wall out, or the chance of a wrong echo exceeds what the interval leaves beyond its upper end (2.5 %), the upper end is that of the smallest wall
/// that is borne out: the true minimum lies no higher. The lower end goes down to the cell's other wall where that is thinner.</para>
/// <para>The chance is that of one cell. The smallest of many cells is wrong more often than its own chance says, since wrong echoes read thin: the
/// chance is a least value. Common sense, no source.</para>
/// </remarks>
public sealed record MinimumStatement
{
    private const double Normal95 = 1.959964;
    private const double Beyond = 0.025;

    /// <summary>Lower end of the interval, metres.</summary>
    public required double LowerMetres { get; init; }

    /// <summary>Upper end, metres; null where no wall is borne out.</summary>
    public required double? UpperMetres { get; init; }

    /// <summary>Chance that the echo of the smallest measured wall is the wrong one, at least; null where the grid has neither it nor a margin.</summary>
    public required double? WrongEchoChance { get; init; }

    /// <summary>Whether the chance is the grid's probability of a wrong echo; else half of what the pairing's margin lacks to 1, which is not calibrated.</summary>
    public required bool IsStatedByGrid { get; init; }

    /// <summary>The other wall that the cell's echoes allow, metres; null for none.</summary>
    public required double? OtherWallMetres { get; init; }

    /// <summary>Whether the smallest wall that neighbours bear out agrees with the smallest measured wall, within two of its standard uncertainties.</summary>
    public required bool IsBorneOut { get; init; }

    /// <summary>Makes the statement.</summary>
    /// <param name="least">The smallest measured wall.</param>
    /// <param name="sure">The smallest borne-out wall; null for none.</param>
    /// <param name="source">The cell of the smallest measured wall; null where it is not one cell's.</param>
    /// <param name="lines">The lines.</param>
    public static MinimumStatement Of(
        MinimumWall least,
        BorneOutWall? sure,
        CellSource? source,
        IReadOnlyList<LineCells> lines
    )
    {
        ArgumentNullException.ThrowIfNull(least);
        ArgumentNullException.ThrowIfNull(lines);
        LineCells? line = source is null ? null : lines.FirstOrDefault(l => l.Name == source.Line);
        int cell = line is null ? -1 : source!.Scan * line.Beams + source.Beam;
        double? stated = least.WrongEchoProbability is { } p && double.IsFinite(p) ? p : null;
        double? share = line?.SecondShare.Length > 0 ? line.SecondShare[cell] : null;
        double? chance = stated ?? share;
        double? other =
            line?.SecondWallMetres.Length > 0 && float.IsFinite(line.SecondWallMetres[cell])
                ? line.SecondWallMetres[cell]
                : null;
        bool borneOut =
            sure is not null && sure.WallMetres - least.MeasuredMetres <= 2 * least.StandardUncertaintyMetres;
        bool doubtful = !borneOut || chance > Beyond;
        double half = Normal95 * least.StandardUncertaintyMetres;
        return new MinimumStatement
        {
            LowerMetres =
                doubtful && other < least.MeasuredMetres
                    ? Math.Min(least.LowerMetres, other.Value - half)
                    : least.LowerMetres,
            UpperMetres =
                !doubtful ? least.UpperMetres
                : sure is null ? null
                : Math.Max(least.UpperMetres, sure.WallMetres + Normal95 * sure.StandardUncertaintyMetres),
            WrongEchoChance = chance,
            IsStatedByGrid = stated is not null,
            OtherWallMetres = other,
            IsBorneOut = borneOut,
        };
    }
}
