namespace EchoToThickness.Components;

/// <summary>Areas below a wall where the beam stands on two walls.</summary>
/// <remarks>
/// <para>Over the rim of a step or a pit the beam covers both walls and the A-scan holds both trains. The measurement decides for one and keeps the other, as
/// runner-up or as a laminar reflector in front of the wall; its margin m (0 a tie, 1 no rival) says how clear that was. A second wall takes part where a
/// cell beside it on its line (of the eight) measures that wall to 0.1 mm: there it is a rim. It gets the share <c>(1 - m) / 2</c>, half at a tie, none without
/// a rival. A runner-up that nobody beside it measures, such as a doubled wall, takes no part, and neither does a lamination in sound metal. Our choice;
/// measured on machined steps and a smooth patch (tests and docs/component-maps.md).</para>
/// </remarks>
public static class BelowAreas
{
    /// <summary>Areas of a map below a wall.</summary>
    /// <param name="map">The map.</param>
    /// <param name="thresholdMetres">The wall.</param>
    public static BelowArea Of(StitchedMap map, double thresholdMetres)
    {
        ArgumentNullException.ThrowIfNull(map);
        double expected = 0,
            most = 0,
            two = 0;
        for (int cell = 0; cell < map.Raster.Count; cell++)
        {
            if (double.IsNaN(map.ThicknessMetres[cell]))
                continue;
            double sum = 0;
            int count = 0;
            bool any = false,
                disagree = false;
            for (int k = 0; k < map.ContributorCount(cell); k++)
            {
                (int l, int source) = map.Contributor(cell, k);
                LineCells line = map.Lines[l];
                if (!line.IsMeasured(source))
                    continue;
                double wall = line.ThicknessMetres[source];
                double uncertainty = line.Uncertainty(source);
                double below = Probability(thresholdMetres - wall, uncertainty);
                bool first = wall < thresholdMetres;
                any |= first;
                (double second, double share) = line.Second(source);
                if (share > 0 && IsBeside(line, source, second))
                {
                    below = (1 - share) * below + share * Probability(thresholdMetres - second, uncertainty);
                    any |= second < thresholdMetres;
                    disagree |= first != second < thresholdMetres;
                }
                sum += below;
                count++;
            }
            double area = map.AreaSquareMetres[cell];
            expected += sum / Math.Max(1, count) * area;
            most += any ? area : 0;
            two += disagree ? area : 0;
        }
        return new BelowArea(thresholdMetres, expected, most, two);
    }

    private static bool IsBeside(LineCells line, int cell, double wallMetres)
    {
        (int scan, int beam) = (cell / line.Beams, cell % line.Beams);
        for (int s = Math.Max(0, scan - 1); s <= Math.Min(line.Scans - 1, scan + 1); s++)
        for (int b = Math.Max(0, beam - 1); b <= Math.Min(line.Beams - 1, beam + 1); b++)
        {
            int other = s * line.Beams + b;
            if (
                other != cell
                && line.IsMeasured(other)
                && Math.Abs(line.ThicknessMetres[other] - wallMetres) <= BorneOutWalls.AgreementMetres
            )
                return true;
        }
        return false;
    }

    private static double Probability(double distanceMetres, double uncertaintyMetres)
    {
        if (uncertaintyMetres == 0)
            return distanceMetres > 0 ? 1 : 0;
        double z = distanceMetres / uncertaintyMetres;
        // Abramowitz and Stegun (1964) 7.1.26, good to 1.5e-7, is more than an area needs.
        double x = Math.Abs(z) / Math.Sqrt(2);
        double t = 1 / (1 + 0.3275911 * x);
        double poly = t * (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))));
        double tail = 0.5 * poly * Math.Exp(-x * x);
        return z >= 0 ? 1 - tail : tail;
    }
}
