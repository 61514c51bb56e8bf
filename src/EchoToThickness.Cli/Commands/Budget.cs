using EchoToThickness.Measurement;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Uncertainty;

namespace EchoToThickness.Cli.Commands;

/// <summary>The uncertainty budget of one cell as rows: what the grid holds, with the calibration part taken apart.</summary>
internal static class Budget
{
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
        // Only the common lines are taken; they do not depend on the pick rule and the ratios given here.
        UncertaintyBudget budget = UncertaintyBudget.For(
            UncertaintyModel.For(plan.Procedure, plan.Stack, plan.Velocity),
            result.ThicknessMetres,
            PickRule.Correlation,
            1,
            1,
            usesInterface: (result.PairedOrders & 0xF) == 0
        );
        rows.AddRange(
            budget.Lines.Where(l => l.CommonToMap).Select(l => ("  of it " + l.Source, l.ContributionMetres))
        );
        return rows;
    }
}
