using EchoToThickness.Evidence;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;

namespace EchoToThickness.Pairing;

/// <summary>
/// What speaks for and against a measured wall being the wall of the cell: rivals, the clutter of the A-scan itself, strength, the rule that
/// decided, and what neighbours measured. The probability of a wrong echo is a function of these and of nothing else
/// (<see cref="WrongEchoModel"/>).
/// </summary>
/// <remarks>
/// A rival is another hypothesis of the cell, more than 7 % off (nearer ones are the same echo in another train). Rivals whose first echo lies where
/// the couplant layer echoes are left out: those echoes have a cause. Leads are in nats, positive where the rivals are likelier, each the log of the
/// sum over its rivals of the likelihood ratio against the wall measured.
/// </remarks>
public readonly record struct WrongEchoSigns
{
    /// <summary>A lead where there is no rival, nats.</summary>
    public const double NoRivalNats = -60;

    /// <summary>Log odds, before anything is heard, that the wall of a coupled cell is among the candidates.</summary>
    private const double HeardPrior = 3;

    /// <summary>Lead of thinner walls, whose first echo is seen, neighbours heard.</summary>
    public double ThinnerNats { get; init; }

    /// <summary>Lead of thicker walls, neighbours heard.</summary>
    public double ThickerNats { get; init; }

    /// <summary>Lead of thinner walls whose first echo is not seen (the wall measured would be a multiple), neighbours heard.</summary>
    public double MultipleNats { get; init; }

    /// <summary><see cref="ThinnerNats"/> by own evidence alone.</summary>
    public double OwnThinnerNats { get; init; }

    /// <summary><see cref="ThickerNats"/> by own evidence alone.</summary>
    public double OwnThickerNats { get; init; }

    /// <summary>Lead of "no echo is a wall's".</summary>
    public double NoWallNats { get; init; }

    /// <summary>Strongest echo left unexplained over the wall's strongest, decibels: clutter of this A-scan.</summary>
    public double ClutterDecibels { get; init; }

    /// <summary>Peak-to-noise ratio of the weakest echo that the wall rests on, decibels.</summary>
    public double SignalToNoiseDecibels { get; init; }

    /// <summary>Back-wall echo 1 over the interface, decibels; NaN where either is missing.</summary>
    public double StrengthDecibels { get; init; }

    /// <summary>Back-wall echoes that support the wall.</summary>
    public int Echoes { get; init; }

    /// <summary>Whether a search of the whole noisy record decided.</summary>
    public bool FromSearch { get; init; }

    /// <summary>Whether an early reflector was taken for the wall.</summary>
    public bool FromEarlyReflector { get; init; }

    /// <summary>Whether the wall lies behind a reflector.</summary>
    public bool BehindReflector { get; init; }

    /// <summary>Whether the cell has no other hypothesis: no interface to count from, or a coat on it.</summary>
    public bool Alone { get; init; }

    /// <summary>Whether neighbours changed the cell.</summary>
    public bool ChosenOverMap { get; init; }

    /// <summary>Cells next to it that measured a like wall, 0 to 8.</summary>
    public int Alike { get; init; }

    /// <summary>Whether some cell next to it measured another wall.</summary>
    public bool Contradicted { get; init; }

    /// <summary>How much thinner the thinnest wall next to it is, as a fraction, 0 to 0.5.</summary>
    public double ThinnestBesideFraction { get; init; }

    /// <summary>Signs of a cell's own wall, no neighbour heard.</summary>
    /// <param name="set">Hypotheses of the cell, one of them its own.</param>
    /// <param name="cell">The result.</param>
    /// <param name="reason">Which rule decided.</param>
    /// <exception cref="ArgumentException">The cell decided on none of the hypotheses.</exception>
    public static WrongEchoSigns Of(in HypothesisSet set, in CellResult cell, TrainReason reason)
    {
        if (set.Own < 0)
            throw new ArgumentException("The cell decided on none of its hypotheses.", nameof(set));
        Span<float> lead = stackalloc float[HypothesisSet.Most];
        for (int h = 0; h < set.Count; h++)
            lead[h] = set[h].LogLikelihood - set[set.Own].LogLikelihood;
        return Of(set, set.Own, lead, cell, reason);
    }

    /// <summary>Signs of a cell's wall after neighbours were heard.</summary>
    /// <param name="strip">The strip, choices made.</param>
    /// <param name="scan">Scan position.</param>
    /// <param name="beam">Beam.</param>
    /// <param name="hypothesis">Index of the hypothesis that was measured.</param>
    /// <param name="cell">The result.</param>
    /// <param name="settings">Settings of the choice.</param>
    /// <param name="neighbours">Along which axes cells are neighbours.</param>
    public static WrongEchoSigns Of(
        MapStrip strip,
        int scan,
        int beam,
        int hypothesis,
        in CellResult cell,
        MapSettings settings,
        NeighbourAxes neighbours
    )
    {
        ArgumentNullException.ThrowIfNull(strip);
        var costs = new MapCosts(settings);
        ref readonly HypothesisSet set = ref strip.Hypotheses(scan, beam);
        Span<float> lead = stackalloc float[HypothesisSet.Most];
        for (int h = 0; h < set.Count; h++)
            // Neighbours do not speak for a hypothesis that the cell's own evidence rules out.
            lead[h] = costs.IsOpen(set, h)
                ? strip.Cost(scan, beam, hypothesis) - strip.Cost(scan, beam, h)
                : set[h].LogLikelihood - set[hypothesis].LogLikelihood;
        WrongEchoSigns signs = Of(set, hypothesis, lead, cell, strip.Reason(scan, beam));
        return signs.Beside(strip, scan, beam, cell.ThicknessMetres, neighbours);
    }

    private static WrongEchoSigns Of(
        in HypothesisSet set,
        int measured,
        ReadOnlySpan<float> lead,
        in CellResult cell,
        TrainReason reason
    )
    {
        WallHypothesis wall = set[measured];
        double thinner = 0;
        double thicker = 0;
        double multiple = 0;
        double ownThinner = 0;
        double ownThicker = 0;
        for (int h = 0; h < set.Count; h++)
        {
            WallHypothesis rival = set[h];
            double ratio = rival.ThicknessMetres / wall.ThicknessMetres;
            if (h == measured || rival.AtCouplantEcho || Math.Abs(ratio - 1) < MapRules.AlikeFraction)
                continue;
            double own = Math.Exp(Math.Min(rival.LogLikelihood - wall.LogLikelihood, LargestLead));
            double heard = Math.Exp(Math.Min(lead[h], LargestLead));
            if (rival.FirstOrder > 1)
            {
                multiple += ratio < 1 ? heard : 0;
                continue;
            }
            thinner += ratio < 1 ? heard : 0;
            thicker += ratio < 1 ? 0 : heard;
            ownThinner += ratio < 1 ? own : 0;
            ownThicker += ratio < 1 ? 0 : own;
        }
        bool changed = cell.Notes.HasFlag(CellNotes.ChosenOverMap);
        return new WrongEchoSigns
        {
            ThinnerNats = Log(thinner),
            ThickerNats = Log(thicker),
            MultipleNats = Log(multiple),
            OwnThinnerNats = Log(ownThinner),
            OwnThickerNats = Log(ownThicker),
            NoWallNats = -wall.LogLikelihood - HeardPrior,
            ClutterDecibels = wall.ClutterDecibels,
            SignalToNoiseDecibels = cell.SignalToNoiseDecibels,
            StrengthDecibels = 20 * Math.Log10(cell.FirstEchoAmplitudeFraction / cell.InterfaceAmplitudeFraction),
            Echoes = cell.EchoCount,
            FromSearch = !changed && reason is TrainReason.CoherentComb or TrainReason.IncoherentComb,
            FromEarlyReflector = !changed && reason is TrainReason.EarlyReflector,
            BehindReflector = cell.Status == CellStatus.LaminarReflector,
            Alone = set.Count == 1,
            ChosenOverMap = changed,
        };
    }

    private WrongEchoSigns Beside(MapStrip strip, int scan, int beam, double metres, NeighbourAxes neighbours)
    {
        int scans = neighbours.HasFlag(NeighbourAxes.Scan) ? 1 : 0;
        int beams = neighbours.HasFlag(NeighbourAxes.Beam) ? 1 : 0;
        int alike = 0;
        int measured = 0;
        double thinnest = 1;
        for (int s = scan - scans; s <= scan + scans; s++)
        {
            for (int b = beam - beams; b <= beam + beams; b++)
            {
                if ((s == scan && b == beam) || !strip.Contains(s, b))
                    continue;
                double ratio = strip.Own(s, b).ThicknessMetres / metres;
                if (double.IsNaN(ratio))
                    continue;
                measured++;
                thinnest = Math.Min(thinnest, ratio);
                if (Math.Abs(ratio - 1) < MapRules.AlikeFraction)
                    alike++;
            }
        }
        return this with
        {
            Alike = alike,
            Contradicted = measured > alike,
            ThinnestBesideFraction = Math.Min(1 - thinnest, 0.5),
        };
    }

    private const double LargestLead = 50;

    private static double Log(double sum) => sum > 0 ? Math.Max(Math.Log(sum), NoRivalNats) : NoRivalNats;
}
