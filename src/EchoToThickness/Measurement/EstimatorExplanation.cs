using System.Globalization;
using EchoToThickness.Echoes;
using EchoToThickness.Estimation;
using EchoToThickness.Procedures;

namespace EchoToThickness.Measurement;

/// <summary>Tells, for people, what the estimator made of an A-scan, behind what the train rule says of its echoes.</summary>
internal static class EstimatorExplanation
{
    public static void Fill(
        MeasurementTrace trace,
        MeasurementPlan plan,
        EchoRecord record,
        in SpacingEstimate estimate,
        string whyNot
    )
    {
        EstimationSettings settings = plan.Procedure.Estimation;
        string method = KeyDescription
            .ChoicesOf(typeof(EstimationMethod))
            .First(c => c.Value.Equals(settings.Method))
            .Choice.Word;
        if (whyNot.Length > 0)
        {
            trace.Say("estimation", $"'{method}' not tried: {whyNot}");
            return;
        }
        string where =
            settings.Search == EstimationSearch.Train ? "about the train's wall" : "in the whole range of walls";
        if (!estimate.Found)
        {
            trace.Say("estimation", $"'{method}' {where}: nothing found");
            return;
        }
        double microseconds = 1e6 / record.Scale.SampleRateHz;
        EstimatorSpread spread = EstimatorSpread.Of(settings.Method);
        double uncertainty = spread.Uncertainty(estimate.BoundSamples, record.Scale.Period);
        trace.Say(
            "estimation",
            Text(
                $"'{method}' {where}: round trip {estimate.SpacingSamples * microseconds:0.00000} us from echoes {estimate.FirstOrder} to {estimate.LastOrder}, {estimate.SignalRatio:0.0} times the noise (asked for: {settings.WeakestRatio:0.0})"
            )
        );
        trace.Say(
            "estimation",
            Text(
                $"noise: Cramer-Rao bound {1e3 * estimate.BoundSamples * microseconds:0.000} ns, times {spread.Ratio:0.00} for this estimator, with its floor {1e3 * uncertainty * microseconds:0.000} ns"
            )
        );
        if (!double.IsNaN(estimate.RivalSamples))
            trace.Say(
                "estimation",
                Text(
                    $"best rival {1e3 * plan.Velocity.WallToWallMetres(estimate.RivalSamples / record.Scale.SampleRateHz):0.000} mm, {100 * estimate.RivalShare:0} % of the statistic"
                )
            );
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
