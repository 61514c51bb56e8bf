using System.Numerics;
using EchoToThickness.Evidence;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Velocity;

namespace EchoToThickness.Pairing;

/// <summary>What may be done with a cell whose choice over the map is not its own: which changes neighbours may make, and which never.</summary>
/// <remarks>
/// Thinner than the cell's own (doubled, skipped, mode-converted): where two neighbours are as thick as the choice. Thicker: never where pits
/// are expected; else the own value stays, as the depth of a reflector in front of the wall. A cell refused by itself gets a wall from a
/// hypothesis of its own, where two neighbours agree. Laminar cells are never touched.
/// </remarks>
public static class MapRules
{
    /// <summary>Walls within this fraction of each other are alike; what differs less is not a different echo.</summary>
    internal const double AlikeFraction = 0.07;

    private const int FewestAlike = 2;

    /// <summary>Needed where the first echo of the choice is not seen at all.</summary>
    private const int FewestAlikeHidden = 3;

    /// <summary>A wall is no measurement where a thinner one is likelier by more than this; where a thicker one is, it stays, on the safe side.</summary>
    private const double MostDoubtfulNats = 1;

    /// <summary>Peak-to-noise ratio, decibels, that a full wall behind a reflector needs: 6.3.</summary>
    internal const double ClearWallDecibels = 16;

    /// <summary>Cells on either side whose choices count.</summary>
    internal const int ReachCells = 2;

    /// <summary>A refused cell is given a wall only on this much evidence of its own against no wall at all, nats.</summary>
    private const double FewestSuppliedNats = 3;

    /// <summary>And only if no other wall is better by more than this.</summary>
    private const double MostContestedNats = 1;

    /// <summary>Decides what becomes of a cell.</summary>
    /// <param name="strip">The strip, choices made.</param>
    /// <param name="scan">Scan position.</param>
    /// <param name="beam">Beam.</param>
    /// <param name="expect">What an early reflector is taken for.</param>
    /// <param name="neighbours">Along which axes cells are neighbours.</param>
    /// <param name="convertedRatio">Path with one leg of shear over the wall.</param>
    public static MapAction Decide(
        MapStrip strip,
        int scan,
        int beam,
        TrainExpectation expect,
        NeighbourAxes neighbours,
        double convertedRatio
    )
    {
        ArgumentNullException.ThrowIfNull(strip);
        ref readonly HypothesisSet set = ref strip.Hypotheses(scan, beam);
        ref readonly CellResult own = ref strip.Own(scan, beam);
        int chosen = strip.Chosen(scan, beam);
        if (chosen < 0 || chosen == set.Own)
            return MapAction.Keep;
        double wall = set[chosen].ThicknessMetres;
        bool measured = !double.IsNaN(own.ThicknessMetres);
        if (measured && Math.Abs(own.ThicknessMetres / wall - 1) < AlikeFraction)
            return MapAction.Keep;
        bool thicker = wall > own.ThicknessMetres;
        bool hidden = set[chosen].FirstOrder > 1;
        if (CountAlike(strip, scan, beam, wall, neighbours, thicker) < (hidden ? FewestAlikeHidden : FewestAlike))
            return
                own.Status == CellStatus.Measured
                && !thicker
                && set.Own >= 0
                && neighbours != NeighbourAxes.None
                && strip.Cost(scan, beam, set.Own) - strip.Cost(scan, beam, chosen) > MostDoubtfulNats
                && IsThickest(strip, scan, beam, neighbours)
                ? MapAction.Refuse
                : MapAction.Keep;
        if (own.Status == CellStatus.LaminarReflector)
            return measured && IsArtefact(own.ThicknessMetres / wall, convertedRatio) ? MapAction.Time : MapAction.Keep;
        if (!measured)
            return
                MayBeSupplied(strip.Reason(scan, beam), expect)
                && set[chosen].LogLikelihood >= FewestSuppliedNats
                && set[0].LogLikelihood - set[chosen].LogLikelihood <= MostContestedNats
                && !MayHideAPit(set, chosen, expect == TrainExpectation.Pits ? HiddenPitExpectedNats : HiddenPitNats)
                ? MapAction.Time
                : MapAction.Keep;
        if (own.Status != CellStatus.Measured)
            return MapAction.Keep;
        if (!thicker)
            return MapAction.Time;
        return
            expect == TrainExpectation.Laminar
            && !hidden
            && HasAnchor(strip, scan, beam, wall, neighbours)
            && !IsBesideStep(strip, scan, beam, wall, neighbours)
            && !IsLonePit(strip, scan, beam, neighbours)
            ? MapAction.TimeBehindReflector
            : MapAction.Keep;
    }

    /// <summary>
    /// Notes where the couplant layer would echo (twice the interface time, and more) on or near one of the wall's first two echoes, whether or
    /// not the two can be told apart, or the wall's echo be seen at all.
    /// </summary>
    /// <param name="cell">A measured cell; takes the note.</param>
    /// <param name="metresPerSecond">Wall per second of round trip (half the velocity).</param>
    /// <param name="periodSeconds">One period.</param>
    public static void NoteCouplantEcho(ref CellResult cell, double metresPerSecond, double periodSeconds)
    {
        double roundTrip = cell.ThicknessMetres / metresPerSecond;
        for (int m = 2; m <= 5; m++)
        {
            double place = m * cell.InterfaceSeconds;
            double early = ((m - 1) * TrainContext.PulseDelayPeriods + NearPeriods) * periodSeconds;
            double late = NearPeriods * periodSeconds;
            for (int order = 1; order <= 2; order++)
            {
                double echo = cell.InterfaceSeconds + order * roundTrip;
                if (echo > place - early && echo < place + late)
                    cell.Notes |= CellNotes.CouplantMultipleNear;
            }
        }
    }

    private const double NearPeriods = 1.5;

    /// <summary>Names what a change of wall corrects: twice, half, a converted path.</summary>
    /// <param name="own">The cell's own result.</param>
    /// <param name="chosen">What neighbours chose.</param>
    /// <param name="convertedRatio">Path with one leg of shear over the wall.</param>
    internal static CellNotes NotesOf(in CellResult own, in WallHypothesis chosen, double convertedRatio)
    {
        double ratio = own.ThicknessMetres / chosen.ThicknessMetres;
        if (IsNear(ratio, 2) || IsNear(ratio, 3))
            return CellNotes.DoubledWallRejected;
        if (IsNear(ratio, 0.5) || IsNear(ratio, 1.0 / 3))
            return CellNotes.HalvedWallRejected;
        return IsNear(ratio, convertedRatio) ? CellNotes.ModeConvertedEcho : CellNotes.None;
    }

    /// <summary>Longitudinal there and shear back, over the wall: <c>(1 + c_L / c_S) / 2</c>.</summary>
    /// <param name="stack">The stack, for the shear velocity.</param>
    /// <param name="velocity">Metres for seconds.</param>
    internal static double ConvertedRatio(StackInfo stack, ResolvedVelocity velocity) =>
        0.5
        * (
            1
            + (
                stack.Acquisition.ShearVelocityMetresPerSecond is { } shear
                    ? velocity.MetresPerSecond / shear
                    : GatePairing.DefaultVelocityRatio
            )
        );

    private static bool IsArtefact(double ratio, double convertedRatio) =>
        IsNear(ratio, 2) || IsNear(ratio, 3) || IsNear(ratio, convertedRatio);

    private static bool IsNear(double ratio, double expected) => Math.Abs(ratio / expected - 1) < RatioFraction;

    /// <summary>A ratio of walls is named within this fraction.</summary>
    private const double RatioFraction = 0.04;

    /// <summary>Refusals that were for want of evidence, which neighbours can give; where pits are expected a doubtful early echo stays doubtful.</summary>
    private static bool MayBeSupplied(TrainReason reason, TrainExpectation expect) =>
        reason
            is TrainReason.TooCloseToNoise
                or TrainReason.CombTooWeak
                or TrainReason.CombsDisagree
                or TrainReason.ExplainsTooLittle
                or TrainReason.MayHideBehindCouplant
        || (
            expect == TrainExpectation.Laminar
            && reason is TrainReason.WeakerThanAnyWall or TrainReason.TwoWallsWithoutRepeat
        );

    /// <summary>Whether a cell is thicker than every cell next to it that measured a wall by itself, and there are two of these at least.</summary>
    private static bool IsThickest(MapStrip strip, int scan, int beam, NeighbourAxes neighbours)
    {
        double own = strip.Own(scan, beam).ThicknessMetres;
        int scans = neighbours.HasFlag(NeighbourAxes.Scan) ? 1 : 0;
        int beams = neighbours.HasFlag(NeighbourAxes.Beam) ? 1 : 0;
        int count = 0;
        for (int s = scan - scans; s <= scan + scans; s++)
        {
            for (int b = beam - beams; b <= beam + beams; b++)
            {
                if ((s == scan && b == beam) || !strip.Contains(s, b))
                    continue;
                double other = strip.Own(s, b).ThicknessMetres;
                if (double.IsNaN(other))
                    continue;
                if (other > own * (1 - AlikeFraction))
                    return false;
                count++;
            }
        }
        return count >= FewestAlike;
    }

    /// <summary>Whether a cell on a straight row within reach measured, by itself, a wall like this: a choice that hangs on nothing but choices is none.</summary>
    private static bool HasAnchor(MapStrip strip, int scan, int beam, double wall, NeighbourAxes neighbours)
    {
        for (int ds = -1; ds <= 1; ds++)
        {
            for (int db = -1; db <= 1; db++)
            {
                if (
                    (ds == 0 && db == 0)
                    || (ds != 0 && !neighbours.HasFlag(NeighbourAxes.Scan))
                    || (db != 0 && !neighbours.HasFlag(NeighbourAxes.Beam))
                )
                    continue;
                for (int step = 1; step <= MapSettings.ReachCells; step++)
                {
                    int s = scan + step * ds;
                    int b = beam + step * db;
                    if (strip.Contains(s, b) && Math.Abs(strip.Own(s, b).ThicknessMetres / wall - 1) < AlikeFraction)
                        return true;
                }
            }
        }
        return false;
    }

    /// <summary>
    /// Whether cells on straight rows within reach measured a cell's wall by themselves and show nothing of a thicker one: the low side of a
    /// step. A lamination that lets sound pass shows the wall behind it in all its cells; one that does not keeps its depth, on the safe side.
    /// </summary>
    private static bool IsBesideStep(MapStrip strip, int scan, int beam, double wall, NeighbourAxes neighbours)
    {
        double own = strip.Own(scan, beam).ThicknessMetres;
        int count = 0;
        for (int ds = -1; ds <= 1; ds++)
        {
            for (int db = -1; db <= 1; db++)
            {
                if (
                    (ds == 0 && db == 0)
                    || (ds != 0 && !neighbours.HasFlag(NeighbourAxes.Scan))
                    || (db != 0 && !neighbours.HasFlag(NeighbourAxes.Beam))
                )
                    continue;
                for (int step = 1; step <= MapSettings.ReachCells; step++)
                {
                    int s = scan + step * ds;
                    int b = beam + step * db;
                    if (!strip.Contains(s, b))
                        break;
                    ref readonly CellResult other = ref strip.Own(s, b);
                    if (
                        other.Status == CellStatus.Measured
                        && Math.Abs(other.ThicknessMetres / own - 1) < AlikeFraction
                        && !Shows(strip.Hypotheses(s, b), wall)
                    )
                        count++;
                }
            }
        }
        return count >= FewestBesideStep;
    }

    /// <summary>Cells that make a step.</summary>
    private const int FewestBesideStep = 3;

    /// <summary>
    /// Whether a cell's own evidence is clearly for its wall and no cell next to it knows of a reflector there: a pit of one cell. A lamination
    /// is wider than a cell, and an echo that is no wall's has no evidence of its own.
    /// </summary>
    private static bool IsLonePit(MapStrip strip, int scan, int beam, NeighbourAxes neighbours)
    {
        ref readonly HypothesisSet set = ref strip.Hypotheses(scan, beam);
        if (set.Own < 0)
            return false;
        WallHypothesis pit = set[set.Own];
        WallHypothesis chosen = set[strip.Chosen(scan, beam)];
        // An echo half way that does not repeat has one echo that is not the wall's; a pit's train has more.
        bool repeats = BitOperations.PopCount(pit.Members & ~chosen.Members) >= 2;
        if (pit.LogLikelihood - chosen.LogLikelihood < (repeats ? LonePitNats : LoneEchoNats))
            return false;
        double own = strip.Own(scan, beam).ThicknessMetres;
        int scans = neighbours.HasFlag(NeighbourAxes.Scan) ? 1 : 0;
        int beams = neighbours.HasFlag(NeighbourAxes.Beam) ? 1 : 0;
        for (int s = scan - scans; s <= scan + scans; s++)
        {
            for (int b = beam - beams; b <= beam + beams; b++)
            {
                if ((s == scan && b == beam) || !strip.Contains(s, b))
                    continue;
                ref readonly CellResult other = ref strip.Own(s, b);
                if (
                    Math.Abs(other.ThicknessMetres / own - 1) < AlikeFraction
                    || Math.Abs(other.ReflectorDepthMetres / own - 1) < AlikeFraction
                    || Shows(strip.Hypotheses(s, b), own)
                )
                    return false;
            }
        }
        return true;
    }

    /// <summary>Whether a refused cell's evidence for a thinner wall, its first echo seen, comes close to that for the choice.</summary>
    private static bool MayHideAPit(in HypothesisSet set, int chosen, double nats)
    {
        for (int h = 0; h < set.Count; h++)
        {
            WallHypothesis rival = set[h];
            if (
                rival.FirstOrder == 1
                && !rival.AtCouplantEcho
                && rival.ThicknessMetres < set[chosen].ThicknessMetres * (1 - AlikeFraction)
                && set[chosen].LogLikelihood - rival.LogLikelihood < nats
            )
                return true;
        }
        return false;
    }

    /// <summary>A thinner wall this close behind, nats, keeps a refused cell refused.</summary>
    private const double HiddenPitNats = 6;

    /// <summary>The same where pits are expected.</summary>
    private const double HiddenPitExpectedNats = 12;

    /// <summary>Lead of a pit's own evidence, nats, that a jump of the wall at every side does not outweigh.</summary>
    private const double LonePitNats = 6.5;

    private const double LoneEchoNats = 8;

    private static bool Shows(in HypothesisSet set, double wall)
    {
        for (int h = 0; h < set.Count; h++)
        {
            if (set[h].FirstOrder == 1 && Math.Abs(set[h].ThicknessMetres / wall - 1) < AlikeFraction)
                return true;
        }
        return false;
    }

    /// <summary>
    /// Cells next to a cell that are as thick as a choice: by their own results, or, for a wall behind a reflector that reaches over many cells,
    /// by what was chosen for them.
    /// </summary>
    private static int CountAlike(
        MapStrip strip,
        int scan,
        int beam,
        double wall,
        NeighbourAxes neighbours,
        bool byChoice
    )
    {
        int count = 0;
        int scans = neighbours.HasFlag(NeighbourAxes.Scan) ? 1 : 0;
        int beams = neighbours.HasFlag(NeighbourAxes.Beam) ? 1 : 0;
        // Along a single axis there are but two next to the cell: the ones behind them count too.
        int reach = scans + beams == 1 ? ReachCells : 1;
        for (int s = scan - reach * scans; s <= scan + reach * scans; s++)
        {
            for (int b = beam - reach * beams; b <= beam + reach * beams; b++)
            {
                if ((s == scan && b == beam) || !strip.Contains(s, b))
                    continue;
                int chosen = strip.Chosen(s, b);
                double other =
                    !byChoice ? strip.Own(s, b).ThicknessMetres
                    : chosen >= 0 ? strip.Hypotheses(s, b)[chosen].ThicknessMetres
                    : double.NaN;
                if (Math.Abs(other / wall - 1) < AlikeFraction)
                    count++;
            }
        }
        return count;
    }
}
