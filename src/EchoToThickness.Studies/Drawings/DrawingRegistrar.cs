using System.Globalization;
using EchoToThickness.Signals;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.Optimization;

namespace EchoToThickness.Studies.Drawings;

/// <summary>Finds the place of a scan on a drawing from the walls that it measured.</summary>
/// <remarks>
/// The mismatch is the mean absolute difference of measured and drawn wall, cut at <see cref="LargestDifferenceMetres"/> so that wrong and missing
/// echoes do not pull; a drawn wall is the mean over the beam's footprint (<see cref="FootprintWalls"/>). All shifts on a lattice of one pitch and all allowed reversals are
/// tried, then shift, turn and stretch are refined by a simplex (Nelder and Mead 1965). A rival is the best place whose drawn walls differ
/// from those of the best one; it is told from it by the noise of the cells whose drawn wall
/// changes. A cell without a wall
/// speaks for a place where the wall varies under the beam, since edges and pits scatter echoes away. The mean wall takes no part: a bias stays
/// what it is.
/// </remarks>
public static class DrawingRegistrar
{
    /// <summary>Differences above this count as this, metres.</summary>
    public const double LargestDifferenceMetres = 0.5e-3;

    /// <summary>How many standard errors a rival has to be worse.</summary>
    public const double LeastRivalDistance = 3;

    private const int MostCells = 4000;
    private const int MostRivals = 10;
    private const int MostCellsOfLattice = 2500;
    private const double SameWallMetres = 30e-6;

    /// <summary>What a cell without a wall costs where the drawn wall is even.</summary>
    private const double LostOnEvenMetres = 0.3e-3;

    /// <summary>Finds the place, or takes the stated one.</summary>
    /// <param name="drawing">The drawing.</param>
    /// <param name="cells">Where the cells of the scan lie.</param>
    /// <param name="wallMetres">Measured walls, shape [scan, beam] row by row; NaN where not measured.</param>
    /// <param name="cancellation">Stops the work.</param>
    public static DrawingRegistration Find(
        Drawing drawing,
        ScannedCells cells,
        ReadOnlySpan<float> wallMetres,
        CancellationToken cancellation = default
    )
    {
        ArgumentNullException.ThrowIfNull(drawing);
        ArgumentNullException.ThrowIfNull(cells);
        if (wallMetres.Length != cells.Count)
            throw new ArgumentException(
                $"{wallMetres.Length} walls do not fit {cells.Count} cells.",
                nameof(wallMetres)
            );
        DrawingRegistrationSettings settings = drawing.File.Registration;
        var start = new DrawingRegistration
        {
            CentreAlongMetres = cells.CentreAlongMetres,
            CentreAcrossMetres = cells.CentreAcrossMetres,
            ShiftAlongMetres = settings.ShiftAlongMetres,
            ShiftAcrossMetres = settings.ShiftAcrossMetres,
            Note = "",
        };
        List<Sample> samples = Thin(cells, wallMetres);
        double area =
            (cells.AlongMetres.Max() - cells.AlongMetres.Min() + cells.PitchMetres)
            * (cells.AcrossMetres.Max() - cells.AcrossMetres.Min() + cells.PitchMetres);
        var search = new Search(drawing, samples, area / Math.Max(1, samples.Count));
        if (settings.Mode == DrawingRegistrationMode.Stated)
        {
            DrawingRegistration stated = start with
            {
                ReversedAlong = settings.MayBeReversedAlong,
                ReversedAcross = settings.MayBeReversedAcross,
            };
            return search.Describe(stated) with
            {
                IsReliable = true,
                Note = "Stated in the drawing's file; nothing was moved.",
            };
        }
        int measured = samples.Count(s => !float.IsNaN(s.Wall));
        if (measured < 20)
            return start with
            {
                Cells = measured,
                Note = $"Only {measured} cells were measured: too few to be laid on the drawing.",
            };
        return search.Find(start, settings, Math.Max(cells.PitchMetres, 0.2e-3), cancellation);
    }

    /// <summary>At most <see cref="MostCells"/> of the measured cells, scattered so that they fall on no lattice of the drawing.</summary>
    private static List<Sample> Thin(ScannedCells cells, ReadOnlySpan<float> walls)
    {
        double share = (double)MostCells / walls.Length;
        int beams = cells.AcrossMetres.Length;
        var samples = new List<Sample>();
        for (int i = 0; i < walls.Length; i++)
            if ((SplitMix64.Mix((ulong)i) >> 11) * (1.0 / (1UL << 53)) < share)
                samples.Add(new Sample(cells.AlongMetres[i / beams], cells.AcrossMetres[i % beams], walls[i]));
        return samples;
    }

    private readonly record struct Sample(double Along, double Across, float Wall);

    private sealed class Search(Drawing drawing, List<Sample> samples, double samplesArea)
    {
        private readonly double _footprint = drawing.File.Header.FootprintMetres;
        private readonly FootprintWalls _walls = new(drawing);

        public DrawingRegistration Find(
            DrawingRegistration start,
            DrawingRegistrationSettings settings,
            double stepMetres,
            CancellationToken cancellation
        )
        {
            int along = (int)Math.Ceiling(settings.SearchAlongMetres / stepMetres);
            int across = (int)Math.Ceiling(settings.SearchAcrossMetres / stepMetres);
            int stride = Math.Max(1, samples.Count / MostCellsOfLattice);
            List<Sample> coarse = [.. samples.Where((_, i) => i % stride == 0)];
            var tried = new List<(DrawingRegistration Place, double Cost)>();
            foreach (bool backAlong in Choices(settings.MayBeReversedAlong))
            foreach (bool backAcross in Choices(settings.MayBeReversedAcross))
            {
                var costs = new (DrawingRegistration, double)[(2 * along + 1) * (2 * across + 1)];
                Parallel.For(
                    -along,
                    along + 1,
                    new ParallelOptions { CancellationToken = cancellation },
                    i =>
                    {
                        for (int j = -across; j <= across; j++)
                        {
                            DrawingRegistration place = start with
                            {
                                ReversedAlong = backAlong,
                                ReversedAcross = backAcross,
                                ShiftAlongMetres = start.ShiftAlongMetres + i * stepMetres,
                                ShiftAcrossMetres = start.ShiftAcrossMetres + j * stepMetres,
                            };
                            costs[(i + along) * (2 * across + 1) + j + across] = (place, Cost(place, coarse));
                        }
                    }
                );
                tried.AddRange(costs);
            }
            // Of equal places the one that moves least, so that an axis that the drawing does not decide stays where it was.
            double Preference((DrawingRegistration Place, double Cost) t) =>
                t.Cost
                + 1e-5
                    * (
                        Math.Abs(t.Place.ShiftAlongMetres - start.ShiftAlongMetres)
                        + Math.Abs(t.Place.ShiftAcrossMetres - start.ShiftAcrossMetres)
                    )
                + (t.Place.ReversedAlong || t.Place.ReversedAcross ? 1e-9 : 0);
            DrawingRegistration[] ordered = [.. tried.OrderBy(Preference).Select(t => t.Place)];
            DrawingRegistration best = Refine(ordered[0], settings, stepMetres, 4);
            double reach = Math.Max(2 * stepMetres, _footprint);
            (bool Along, bool Across) decided = (Decides(best, reach, 0), Decides(best, 0, reach));
            // A place a fraction of a pitch off may be the best one again once it is refined.
            DrawingRegistration? rival = ordered
                .Where(place => IsOther(best, place, decided, reach))
                .Take(MostRivals)
                .Select(place => Refine(place, settings, stepMetres, 1))
                .FirstOrDefault(place => IsOther(best, place, decided, reach));
            return Judge(Describe(best), rival, start, settings, stepMetres, decided);
        }

        /// <summary>Fills in what is known of a place by itself.</summary>
        public DrawingRegistration Describe(DrawingRegistration place)
        {
            double[] differences =
            [
                .. samples
                    .Select(s => s.Wall - Drawn(place, s))
                    .Where(d => Math.Abs(d) < LargestDifferenceMetres)
                    .Order(),
            ];
            return place with
            {
                Cells = samples.Count(s => !float.IsNaN(s.Wall)),
                MismatchMetres = Cost(place),
                MedianDifferenceMetres = differences.Length > 0 ? differences[differences.Length / 2] : double.NaN,
            };
        }

        private DrawingRegistration Judge(
            DrawingRegistration best,
            DrawingRegistration? rival,
            DrawingRegistration start,
            DrawingRegistrationSettings settings,
            double step,
            (bool Along, bool Across) decided
        )
        {
            (bool decidedAlong, bool decidedAcross) = decided;
            double distance = rival is null ? double.NaN : Distance(best, rival);
            bool atEdge =
                decidedAlong
                    && settings.SearchAlongMetres > 0
                    && Math.Abs(best.ShiftAlongMetres - start.ShiftAlongMetres) > settings.SearchAlongMetres - step / 2
                || decidedAcross
                    && settings.SearchAcrossMetres > 0
                    && Math.Abs(best.ShiftAcrossMetres - start.ShiftAcrossMetres)
                        > settings.SearchAcrossMetres - step / 2;
            double[] inside = [.. samples.Select(s => Drawn(best, s) - s.Wall).Where(double.IsFinite)];
            double outside = 1 - inside.Length / (double)best.Cells;
            bool unlike = inside.Length == 0 || inside.Average(Cut) > 0.6 * LargestDifferenceMetres;
            bool nothing = !decidedAlong && !decidedAcross;
            string note =
                unlike
                    ? "The measured walls do not resemble the drawing anywhere in reach: check that it is the right block, or state the place."
                : atEdge ? "The best place lies at the edge of the search: widen it, or correct the datum."
                : distance < LeastRivalDistance
                    ? string.Create(
                        CultureInfo.InvariantCulture,
                        $"Another place fits nearly as well (along {rival!.ShiftAlongMetres * 1e3:0.0} mm, across {rival.ShiftAcrossMetres * 1e3:0.0} mm): narrow the search, or state the place."
                    )
                : outside > 0.5 ? "More than half of the scan lies where nothing is certified: check the datum."
                : nothing
                    ? "The drawing shows nothing that would decide the place; the scan stays where it was stated to be."
                : !decidedAlong ? "Found across; along, the drawing decides nothing and the scan stays where it was."
                : !decidedAcross ? "Found along; across, the drawing decides nothing and the scan stays where it was."
                : "Found by laying the measured walls on the drawn ones.";
            return best with
            {
                RivalMismatchMetres = rival is null ? double.NaN : Cost(rival),
                RivalDistance = distance,
                DecidedAlong = decidedAlong,
                DecidedAcross = decidedAcross,
                IsReliable = !unlike && !atEdge && !(distance < LeastRivalDistance) && outside <= 0.5,
                Note = note,
            };
        }

        private DrawingRegistration Refine(
            DrawingRegistration at,
            DrawingRegistrationSettings settings,
            double step,
            double farthestSteps
        )
        {
            // Variables in units of their first step; turn and stretch only where they are allowed.
            double half = Math.Max(samples.Max(s => Math.Abs(s.Along - at.CentreAlongMetres)), step);
            double[] unit =
            [
                step,
                step,
                Math.Min(settings.SearchAngleRadians, 2 * step / half),
                Math.Min(settings.SearchStretchFraction, 2 * step / half),
            ];
            int[] free = [.. Enumerable.Range(0, 4).Where(i => unit[i] > 0)];
            DrawingRegistration Moved(Vector<double> v)
            {
                double Of(int k) => Array.IndexOf(free, k) is var i and >= 0 ? v[i] * unit[k] : 0;
                return at with
                {
                    ShiftAlongMetres = at.ShiftAlongMetres + Of(0),
                    ShiftAcrossMetres = at.ShiftAcrossMetres + Of(1),
                    AngleRadians = Of(2),
                    StretchFraction = Of(3),
                };
            }
            double Objective(Vector<double> v)
            {
                DrawingRegistration moved = Moved(v);
                if (
                    Math.Abs(moved.ShiftAlongMetres - at.ShiftAlongMetres) > farthestSteps * step
                    || Math.Abs(moved.ShiftAcrossMetres - at.ShiftAcrossMetres) > farthestSteps * step
                    || Math.Abs(moved.AngleRadians) > settings.SearchAngleRadians
                    || Math.Abs(moved.StretchFraction) > settings.SearchStretchFraction
                )
                    return 10 * LargestDifferenceMetres;
                // A weak pull to where it was, against drift along what the drawing does not decide.
                return Cost(moved) + 1e-7 * v.DotProduct(v);
            }
            Vector<double> best = Vector<double>.Build.Dense(free.Length);
            // A simplex may stop on a slope: it is begun anew, smaller, from where it stopped.
            foreach (double size in new[] { 1, 0.5, 0.25 })
            {
                try
                {
                    Vector<double> found = NelderMeadSimplex
                        .Minimum(
                            ObjectiveFunction.Value(Objective),
                            best,
                            Vector<double>.Build.Dense(free.Length, size),
                            1e-9,
                            1000
                        )
                        .MinimizingPoint;
                    if (Objective(found) < Objective(best))
                        best = found;
                }
                catch (MaximumIterationsException)
                {
                    // The best so far stands.
                }
            }
            return Moved(best);
        }

        private bool Decides(DrawingRegistration best, double along, double across) =>
            new[] { -1, 1 }.All(side =>
            {
                DrawingRegistration moved = best with
                {
                    ShiftAlongMetres = best.ShiftAlongMetres + side * along,
                    ShiftAcrossMetres = best.ShiftAcrossMetres + side * across,
                };
                return Distance(best, moved) >= LeastRivalDistance;
            });

        /// <summary>Whether a place shows the scan other walls than the best one, and lies further off than the refinement may have moved it.</summary>
        private bool IsOther(
            DrawingRegistration best,
            DrawingRegistration place,
            (bool Along, bool Across) decided,
            double reach
        )
        {
            bool turned = best.ReversedAlong != place.ReversedAlong || best.ReversedAcross != place.ReversedAcross;
            // Along an axis that the drawing does not decide no place is another one.
            double moved = Math.Max(
                decided.Along ? Math.Abs(best.ShiftAlongMetres - place.ShiftAlongMetres) : 0,
                decided.Across ? Math.Abs(best.ShiftAcrossMetres - place.ShiftAcrossMetres) : 0
            );
            bool far =
                Math.Max(
                    Math.Abs(best.ShiftAlongMetres - place.ShiftAlongMetres),
                    Math.Abs(best.ShiftAcrossMetres - place.ShiftAcrossMetres)
                ) >= reach;
            if (!turned && moved < reach)
                return far && !Seen(best).SetEquals(Seen(place));
            double sum = 0;
            // Where one of the two shows nothing certified there is nothing to compare.
            foreach (Sample sample in samples)
                if (Drawn(best, sample) - Drawn(place, sample) is var apart and not double.NaN)
                    sum += Cut(apart);
            // Equal walls of other features are another place too: the features are what tables name.
            return sum / samples.Count > SameWallMetres || !Seen(best).SetEquals(Seen(place));
        }

        /// <summary>Features under the scan, those of a few cells left out.</summary>
        private HashSet<int> Seen(DrawingRegistration place)
        {
            double least = Math.Max(3, 0.005 * samples.Count);
            return
            [
                .. samples
                    .GroupBy(s =>
                    {
                        (double along, double across) = place.Place(s.Along, s.Across);
                        drawing.WallMetres(along, across, out int feature);
                        return feature;
                    })
                    .Where(g => g.Count() >= least && g.Key != Drawing.NoFeature)
                    .Select(g => g.Key),
            ];
        }

        /// <summary>
        /// How many standard errors one place is worse than another. With c the difference of the drawn walls of a cell and e by how much the other
        /// place misses it by more, the share t = Σe / Σc is 1 when every cell speaks for the first place and -1 when every one speaks for the
        /// other; its error comes from the scatter of e about t c. Cells under one footprint count as one.
        /// </summary>
        private double Distance(DrawingRegistration best, DrawingRegistration other)
        {
            var differences = new List<(double Drawn, double Missed)>();
            foreach (Sample sample in samples)
            {
                double here = Drawn(best, sample);
                double there = Drawn(other, sample);
                double drawn = float.IsNaN(sample.Wall)
                    ? Math.Abs(Miss(best, sample) - Miss(other, sample))
                    : Cut(here - there);
                if (drawn > SameWallMetres)
                    differences.Add((drawn, Miss(other, sample) - Miss(best, sample)));
            }
            if (differences.Count == 0)
                return 0;
            double share = differences.Sum(d => d.Missed) / differences.Sum(d => d.Drawn);
            double scatter = differences.Sum(d => Math.Pow(d.Missed - share * d.Drawn, 2));
            // At least the resolution of a common digitised record, so that perfect walls are not infinitely sure.
            scatter = Math.Max(scatter, differences.Count * 1e-5 * 1e-5);
            double together = Math.Max(1, _footprint * _footprint / samplesArea);
            return share * differences.Sum(d => d.Drawn) / Math.Sqrt(scatter * together);
        }

        private double Cost(DrawingRegistration place) => Cost(place, samples);

        private double Cost(DrawingRegistration place, List<Sample> cells)
        {
            double sum = 0;
            foreach (Sample sample in cells)
                sum += Miss(place, sample);
            return sum / cells.Count;
        }

        private double Miss(DrawingRegistration place, Sample sample)
        {
            (double along, double across) = place.Place(sample.Along, sample.Across);
            if (!float.IsNaN(sample.Wall))
                return Cut(sample.Wall - _walls.At(along, across));
            return _walls.IsUneven(along, across) ? 0 : LostOnEvenMetres;
        }

        /// <summary>Outside of what is certified, half the largest difference: neither sought nor shunned.</summary>
        private static double Cut(double difference) =>
            double.IsNaN(difference)
                ? LargestDifferenceMetres / 2
                : Math.Min(Math.Abs(difference), LargestDifferenceMetres);

        private double Drawn(DrawingRegistration place, Sample sample)
        {
            (double along, double across) = place.Place(sample.Along, sample.Across);
            return _walls.At(along, across);
        }

        private static bool[] Choices(bool both) => both ? [false, true] : [false];
    }
}
