using EchoToThickness.Measurement;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Uncertainty;

namespace EchoToThickness.Reporting.Explain;

/// <summary>The uncertainty budget of one cell as rows: what the grid holds, with the calibration part taken apart.</summary>
public static class CellBudget
{
    /// <summary>Rows of the budget; none where no wall was measured.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="result">The cell.</param>
    /// <returns>Source in words, and standard uncertainty in metres.</returns>
    public static IReadOnlyList<(string Source, double Metres)> Of(MeasurementPlan plan, in CellResult result)
    {
        if (double.IsNaN(result.UncertaintyMetres))
            return [];
        var rows = new List<(string, double)>
        {
            ("noise of the picks, independent in every cell", result.UncertaintyNoiseMetres),
        };
        double rest =
            result.UncertaintyMetres * result.UncertaintyMetres
            - result.UncertaintyNoiseMetres * result.UncertaintyNoiseMetres
            - result.UncertaintyCalibrationMetres * result.UncertaintyCalibrationMetres;
        if (rest > 1e-6 * result.UncertaintyMetres * result.UncertaintyMetres)
            rows.Add(("sampling and interpolation", Math.Sqrt(rest)));
        rows.Add(("calibration, common to the map", result.UncertaintyCalibrationMetres));
        UncertaintyModel model = UncertaintyModel.For(plan.Procedure, plan.Stack, plan.Velocity);
        UncertaintyLine[] always = Common(model, result.ThicknessMetres, usesInterface: false);
        UncertaintyLine[] all = Common(model, result.ThicknessMetres, usesInterface: true);
        double scale = InterfaceShare(result.UncertaintyCalibrationMetres, always, all);
        foreach (UncertaintyLine line in all)
        {
            double share = always.Any(a => a.Source == line.Source) ? 1 : scale;
            if (share > 0)
                rows.Add(("  of it " + line.Source, share * line.ContributionMetres));
        }
        return rows;
    }

    // Only the lines common to the map are taken; they do not depend on the pick rule and the ratios given here.
    private static UncertaintyLine[] Common(UncertaintyModel model, double thicknessMetres, bool usesInterface) =>
        [
            .. UncertaintyBudget
                .For(model, thicknessMetres, PickRule.Correlation, 1, 1, usesInterface)
                .Lines.Where(line => line.CommonToMap),
        ];

    /// <summary>
    /// How much of the interface's lines is in a calibration part: 0 for a wall between two back-wall echoes, 1 from interface to back-wall
    /// echo 1, in between where a train of several echoes was fitted.
    /// </summary>
    private static double InterfaceShare(double calibrationMetres, UncertaintyLine[] always, UncertaintyLine[] all)
    {
        double without = always.Sum(line => line.Variance);
        double with = all.Sum(line => line.Variance);
        double found = calibrationMetres * calibrationMetres;
        return with > without ? Math.Sqrt(Math.Clamp((found - without) / (with - without), 0, 1)) : 0;
    }
}
