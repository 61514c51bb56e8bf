using EchoToThickness.Studies.Running;
using EchoToThickness.Studies.StudyFiles;

namespace EchoToThickness.Studies.Compare;

/// <summary>How long a method took for one A-scan. Depends on the machine and its load, so it is no part of a report.</summary>
/// <param name="Method">Name of the method.</param>
/// <param name="SecondsPerAScan">Processor time of the measurement alone, one thread; NaN when nothing was timed.</param>
/// <param name="AScans">A-scans timed.</param>
public sealed record MethodTime(string Method, double SecondsPerAScan, long AScans)
{
    /// <summary>Collects the times of a study. Blocks that are computed or read while they are measured are not timed.</summary>
    /// <param name="plan">The study.</param>
    /// <param name="store">Its finished pieces.</param>
    public static IReadOnlyList<MethodTime> Of(StudyPlan plan, UnitStore store)
    {
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(store);
        var times = new List<MethodTime>();
        foreach (StudyMethod method in plan.Methods)
        {
            double seconds = 0;
            long count = 0;
            foreach (Sources.StudyPoint point in plan.Points)
                for (int block = 0; block < point.Blocks; block++)
                {
                    double took = store.ReadSeconds(UnitStore.NameOf(point, block, method.ProcedureSha256));
                    if (double.IsNaN(took))
                        continue;
                    seconds += took;
                    count += point.InfoOf(block).Shape.Cells;
                }
            times.Add(new MethodTime(method.Name, count > 0 ? seconds / count : double.NaN, count));
        }
        return times;
    }
}
