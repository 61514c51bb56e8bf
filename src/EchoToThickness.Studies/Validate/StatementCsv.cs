using System.Globalization;
using System.Text;

namespace EchoToThickness.Studies.Validate;

/// <summary>Raw results behind a statement as CSV, SI units.</summary>
public static class StatementCsv
{
    private static readonly CultureInfo Culture = CultureInfo.InvariantCulture;

    /// <summary>One line for each feature in each scan.</summary>
    /// <param name="statement">The statement.</param>
    public static string Readings(ValidationStatement statement)
    {
        ArgumentNullException.ThrowIfNull(statement);
        var text = new StringBuilder("scan,line,feature,kind");
        foreach (FactorSettings factor in statement.Plan.Study.Factors)
            text.Append(',').Append(CsvField.Of(factor.Name));
        text.Append(",certified_m,certified_standard_uncertainty_m,cells,missing,gross,mean_error_m,sd_m\n");
        foreach (Reading reading in statement.Readings)
        {
            Start(text, reading.Scan, reading.Line, reading.Feature, reading.Kind);
            double mean = reading.MeanErrorMetres;
            double deviation =
                reading.ErrorsMetres.Length > 1
                    ? Math.Sqrt(
                        reading.ErrorsMetres.Sum(e => (e - mean) * (e - mean)) / (reading.ErrorsMetres.Length - 1)
                    )
                    : double.NaN;
            text.Append(
                Culture,
                $",{Number(reading.TruthMetres)},{Number(reading.TruthUncertaintyMetres)},{reading.Cells},{reading.Missing},{reading.Gross},{Number(mean)},{Number(deviation)}\n"
            );
        }
        return text.ToString();
    }

    /// <summary>One line for each hole or pit in each scan.</summary>
    /// <param name="statement">The statement.</param>
    public static string Indications(ValidationStatement statement)
    {
        ArgumentNullException.ThrowIfNull(statement);
        var text = new StringBuilder("scan,line,feature,kind");
        foreach (FactorSettings factor in statement.Plan.Study.Factors)
            text.Append(',').Append(CsvField.Of(factor.Name));
        text.Append(
            ",diameter_m,depth_m,certified_wall_m,found,signal_m,wall_m,measured_diameter_m,area_m2,off_along_m,off_across_m\n"
        );
        foreach (Indication look in statement.Indications)
        {
            Start(text, look.Scan, "", look.Feature, look.Drawn.Kind.ToString().ToLowerInvariant());
            text.Append(
                Culture,
                $",{Number(look.DiameterMetres)},{Number(look.DepthMetres)},{Number(look.Drawn.WallMetres)},{(look.Found ? 1 : 0)},{Number(look.SignalMetres)},{Number(look.WallMetres)},{Number(look.MeasuredDiameterMetres)},{Number(look.AreaSquareMetres)},{Number(look.OffAlongMetres)},{Number(look.OffAcrossMetres)}\n"
            );
        }
        return text.ToString();
    }

    private static void Start(StringBuilder text, PlacedScan scan, string line, string feature, string kind)
    {
        text.Append(Culture, $"{CsvField.Of(scan.Name)},{CsvField.Of(line)},{CsvField.Of(feature)},{kind}");
        foreach (string level in scan.Levels)
            text.Append(',').Append(CsvField.Of(level));
    }

    private static string Number(double value) => double.IsNaN(value) ? "" : value.ToString("R", Culture);
}
