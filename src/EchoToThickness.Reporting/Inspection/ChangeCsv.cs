using System.Globalization;
using System.Text;
using EchoToThickness.Statistics;
using EchoToThickness.Statistics.Change;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>The fields of a change as CSV: a row a cell measured in both surveys.</summary>
public static class ChangeCsv
{
    /// <summary>Writes the table, millimetres and years, invariant culture, line feeds.</summary>
    /// <param name="change">The change.</param>
    public static string Write(SurveyChange change)
    {
        ArgumentNullException.ThrowIfNull(change);
        ThicknessMap earlier = change.Earlier;
        ThicknessChange field = change.Field;
        var text = new StringBuilder(
            "along_mm,around_mm,earlier_mm,loss_mm,loss_uncertainty_mm,rate_mm_per_year,significant\n"
        );
        for (int k = 0; k < earlier.Count; k++)
        {
            if (double.IsNaN(field.LossMetres[k]))
                continue;
            MapPosition place = earlier.PositionOf(k);
            text.Append(
                CultureInfo.InvariantCulture,
                $"{place.AlongMetres * 1e3:0.###},{place.AroundMetres * 1e3:0.###},{earlier.ThicknessMetres[k] * 1e3:0.####},{field.LossMetres[k] * 1e3:0.#####},{field.UncertaintyMetres[k] * 1e3:0.#####},{field.RateMetresPerYear[k] * 1e3:0.######},{(field.IsSignificant[k] ? 1 : 0)}\n"
            );
        }
        return text.ToString();
    }
}
