using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;

namespace EchoToThickness.Measurement;

/// <summary>
/// How a stack is cut for measuring. Depends on stack and procedure only, never on the number of threads, so that strips see the same
/// neighbours on every machine.
/// </summary>
internal sealed class MeasurementGeometry
{
    /// <summary>Bytes lent at once, about what stays in a core's second-level cache.</summary>
    private const int LendBytes = 512 * 1024;

    /// <summary>A scan line above this size is lent in parts.</summary>
    private const int LargestLineBytes = 4 * 1024 * 1024;

    /// <summary>Cells of one work item, where the read unit allows it.</summary>
    private const int GroupCells = 2048;

    /// <summary>Scan lines of a tracked strip, and of the overlap on either side whose choices are thrown away.</summary>
    private const int StripScans = 64;
    private const int StripOverlap = 16;

    /// <summary>Cells of a group whose walls are chosen over the map, where the lines are not too long for it.</summary>
    private const int MapCells = 16384;

    /// <summary>The same where the order matters to somebody who watches: a line or two, so that a map appears evenly.</summary>
    private const int FineGroupCells = 256;

    public MeasurementGeometry(IAScanSource source, MeasurementPlan plan, bool fine = false)
    {
        StackShape shape = source.Info.Shape;
        ConditioningSettings conditioning = plan.Procedure.Conditioning;
        NeighbourAxes neighbours = source.Info.Neighbours;
        HaloScans = neighbours.HasFlag(NeighbourAxes.Scan) ? conditioning.AverageScans / 2 : 0;
        HaloBeams = neighbours.HasFlag(NeighbourAxes.Beam) ? conditioning.AverageBeams / 2 : 0;
        if (TrainPlan.AsksNeighbours(plan.Procedure, source.Info))
            HaloBeams = Math.Max(HaloBeams, TrainNeighbours.LineReach);
        Tracked = plan.Procedure.Interface.Track != TrackRule.None && neighbours != NeighbourAxes.None;

        long lineBytes = (long)shape.Beams * source.Info.AScanBytes;
        int readScans = Math.Max(1, source.ScansPerRead);
        BeamsPerLend =
            lineBytes <= LargestLineBytes
                ? shape.Beams
                : (int)Math.Clamp(LargestLineBytes / 4 / Math.Max(1, source.Info.AScanBytes), 1, shape.Beams);
        ScansPerLend =
            BeamsPerLend < shape.Beams ? 1 : (int)Math.Clamp(LendBytes / Math.Max(1, lineBytes), 1, GroupCells);
        int group = Math.Max(1, (fine ? FineGroupCells : GroupCells) / Math.Max(1, shape.Beams));
        if (Tracked)
            group = StripScans;
        Mapped = TrainPlan.ChoosesOverMap(plan.Procedure);
        if (Mapped)
            group = Math.Clamp(MapCells / Math.Max(1, shape.Beams), 2 * MapChooser.OverlapCells, StripScans);
        ScansPerGroup = Math.Max(1, (group + readScans - 1) / readScans * readScans);
        OverlapScans =
            !neighbours.HasFlag(NeighbourAxes.Scan) ? 0
            : Tracked ? StripOverlap
            : Mapped ? MapChooser.OverlapCells
            : 0;
        Groups = (shape.Scans + ScansPerGroup - 1) / ScansPerGroup;
        Scans = shape.Scans;
        Beams = shape.Beams;
    }

    public int Scans { get; }
    public int Beams { get; }
    public bool Tracked { get; }
    public bool Mapped { get; }
    public int HaloScans { get; }
    public int HaloBeams { get; }
    public int BeamsPerLend { get; }
    public int ScansPerLend { get; }
    public int ScansPerGroup { get; }
    public int OverlapScans { get; }
    public int Groups { get; }

    /// <summary>Largest number of scan lines whose interfaces one strip holds.</summary>
    public int StripCapacity => Math.Min(Scans, ScansPerGroup + 2 * OverlapScans);

    public (int First, int Count) Group(int group)
    {
        int first = group * ScansPerGroup;
        return (first, Math.Min(ScansPerGroup, Scans - first));
    }

    public (int First, int Count) Strip(int group)
    {
        (int first, int count) = Group(group);
        int start = Math.Max(0, first - OverlapScans);
        int end = Math.Min(Scans, first + count + OverlapScans);
        return (start, end - start);
    }
}
