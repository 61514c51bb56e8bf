using System.Globalization;
using EchoToThickness.Evidence;
using EchoToThickness.Pairing;

namespace EchoToThickness.Measurement;

/// <summary>Tells, for people, what neighbours had to say about a cell's wall.</summary>
internal static class MapExplanation
{
    public static void Fill(
        MeasurementTrace trace,
        MapStrip map,
        int scan,
        int beam,
        MapAction action,
        in CellResult cell
    )
    {
        ref readonly HypothesisSet set = ref map.Hypotheses(scan, beam);
        trace.Result = cell;
        int chosen = map.Chosen(scan, beam);
        if (chosen < 0)
        {
            trace.Say("map", "the A-scan offers no wall to choose from");
            return;
        }
        for (int h = 0; h < set.Count; h++)
        {
            float own = set[0].LogLikelihood - set[h].LogLikelihood;
            float total = map.Cost(scan, beam, h);
            trace.Say(
                "map",
                Text(
                    $"{1e3 * set[h].ThicknessMetres:0.000} mm ({set[h].Echoes} echoes, the first of order {set[h].FirstOrder}): own evidence {own:0.0} nats under the best, {total - own:0.0} from neighbours"
                )
                    + (h == chosen ? ", chosen" : "")
                    + (h == set.Own ? ", the A-scan's own" : "")
            );
        }
        trace.Say("map", Sentence(action));
        if (!double.IsNaN(cell.WrongEchoProbability))
            trace.Say("map", Text($"probability that the echo is the wrong one: {cell.WrongEchoProbability:0.0e+0}"));
    }

    private static string Sentence(MapAction action) =>
        action switch
        {
            MapAction.Keep => "the A-scan's own result stands",
            MapAction.Time => TrainReasons.Describe(TrainReason.ChosenOverMap),
            MapAction.Refuse => TrainReasons.Describe(TrainReason.DoubtfulOverMap),
            _ => TrainReasons.Describe(TrainReason.ReflectorOverMap),
        };

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
