using EchoToThickness.Grids;
using EchoToThickness.Measurement;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Workbench.Sessions;

namespace EchoToThickness.Workbench.Measuring;

/// <summary>One measurement of the whole map with one text, on its way.</summary>
internal sealed class MeasureJob
{
    private readonly TileFeed _feed;

    private MeasureJob(MapResult result, MeasurementPlan plan, bool reused)
    {
        Result = result;
        Plan = plan;
        Reused = reused;
        _feed = new TileFeed(result);
    }

    public MapResult Result { get; }

    public MeasurementPlan Plan { get; }

    /// <summary>Whether pass 1 of an earlier run is used again.</summary>
    public bool Reused { get; }

    public TileFeed Feed => _feed;

    /// <summary>Measuring alone, without sending, milliseconds.</summary>
    public double Milliseconds { get; private set; }

    /// <summary>Compiles a text for a stack; the caller runs the job.</summary>
    /// <exception cref="ProcedureException">The text is at fault.</exception>
    public static MeasureJob Prepare(
        IAScanSource source,
        string text,
        string fileName,
        IReadOnlyList<GridLayer> layers,
        EvidenceStore evidence
    )
    {
        MeasurementPlan plan = MapPlan(source.Info, ProcedureText.Parse(text, fileName), layers);
        StackShape shape = source.Info.Shape;
        return new MeasureJob(new MapResult(shape.Scans, shape.Beams, layers, text), plan, evidence.Prepare(plan));
    }

    /// <summary>The plan of a procedure with the layers of the page in the place of those that the file asks for; walls are the same.</summary>
    public static MeasurementPlan MapPlan(StackInfo stack, Procedure procedure, IReadOnlyList<GridLayer> layers) =>
        MeasurementPlan.Compile(
            procedure with
            {
                Output = new OutputSettings { Layers = [.. layers.Select(GridLayers.NameOf)] },
            },
            stack
        );

    /// <summary>Measures; returns when the last tile is in the feed, or when cancelled.</summary>
    public void Run(
        IAScanSource source,
        EvidenceStore evidence,
        MeasureRequest request,
        int threads,
        CancellationToken cancellation
    )
    {
        long started = TimeProvider.System.GetTimestamp();
        try
        {
            MeasurementEngine.Run(
                source,
                Plan,
                Plan.CreateHeader(""),
                _feed,
                new MeasurementOptions
                {
                    Threads = threads,
                    Order = new MeasurementOrder { FirstScan = request.FirstScan, ScanCount = request.ScanCount },
                    Evidence = evidence,
                    Cancellation = cancellation,
                }
            );
            Milliseconds = TimeProvider.System.GetElapsedTime(started).TotalMilliseconds;
            _feed.End(null);
        }
        catch (Exception error)
        {
            _feed.End(error);
        }
    }
}
