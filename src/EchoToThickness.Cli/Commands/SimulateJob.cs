using EchoToThickness.Cli.Terminal;
using EchoToThickness.Simulation.Rendering;
using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Storage.Native;

namespace EchoToThickness.Cli.Commands;

/// <summary>Writes a simulated stack and says what was planted in it.</summary>
internal static class SimulateJob
{
    public static SceneSummary Run(
        SceneModel model,
        string path,
        StackWriterOptions options,
        Talk talk,
        CancellationToken cancellation
    )
    {
        SceneSummary summary;
        TimeSpan elapsed;
        using (var progress = new ProgressLine(talk, "simulating"))
        {
            summary = SceneStack.Write(
                model,
                path,
                options,
                progress: new Reporter(progress),
                cancellation: cancellation
            );
            elapsed = progress.Elapsed;
        }
        double seconds = elapsed.TotalSeconds;
        talk.Say(
            $"{path}: {StatusWords.Count(summary.Cells)} A-scans in {summary.Lines} scan line(s) in {ProgressLine.Duration(seconds)} "
                + $"({ProgressLine.Rate(summary.Cells / Math.Max(seconds, 1e-9))})"
        );
        talk.Words.Write(TextLayout.List(Rows(summary), Talk.Columns));
        return summary;
    }

    private static IEnumerable<(string Term, string Text)> Rows(SceneSummary summary)
    {
        yield return (
            "wall",
            $"{StatusWords.Millimetres(summary.SmallestMetres)} to {StatusWords.Millimetres(summary.LargestMetres)} on the beam axes"
        );
        if (summary.Absent > 0)
            yield return ("no A-scan", Share(summary.Absent, summary.Cells));
        foreach (PlantedFailure label in Enum.GetValues<PlantedFailure>())
        {
            if (label != PlantedFailure.None && summary.Count(label) is > 0 and var count)
                yield return (StatusWords.Of(label), Share(count, summary.Cells));
        }
    }

    private static string Share(long count, long cells) =>
        $"{StatusWords.Count(count)} ({StatusWords.Percent(count / (double)cells)})";

    private sealed class Reporter(ProgressLine line) : IProgress<SceneProgress>
    {
        public void Report(SceneProgress value) => line.Report(value.Done, value.Total);
    }
}
