using EchoToThickness.Evidence;

namespace EchoToThickness.Pairing;

/// <summary>
/// What a strip of scan lines knows before and after neighbours were heard: each cell's own result and hypotheses, and the choice. Its
/// size depends on the strip, never on the map.
/// </summary>
public sealed class MapStrip
{
    private readonly HypothesisSet[] _sets;
    private readonly CellResult[] _results;
    private readonly TrainReason[] _reasons;
    private readonly sbyte[] _chosen;
    private readonly float[] _costs;

    /// <summary>Makes room for a strip.</summary>
    /// <param name="scanCapacity">Largest number of scan positions.</param>
    /// <param name="beams">Beams of the stack.</param>
    public MapStrip(int scanCapacity, int beams)
    {
        ScanCapacity = scanCapacity;
        Beams = beams;
        int cells = scanCapacity * beams;
        _sets = new HypothesisSet[cells];
        _results = new CellResult[cells];
        _reasons = new TrainReason[cells];
        _chosen = new sbyte[cells];
        _costs = new float[cells * HypothesisSet.Most];
    }

    /// <summary>Largest number of scan positions.</summary>
    public int ScanCapacity { get; }

    /// <summary>Beams of the stack.</summary>
    public int Beams { get; }

    /// <summary>First scan position of the strip in the stack.</summary>
    public int FirstScan { get; private set; }

    /// <summary>Scan positions in the strip.</summary>
    public int ScanCount { get; private set; }

    /// <summary>Places the strip on the stack and forgets everything in it.</summary>
    /// <param name="firstScan">First scan position.</param>
    /// <param name="scanCount">Scan positions.</param>
    public void Place(int firstScan, int scanCount)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThan(scanCount, ScanCapacity);
        FirstScan = firstScan;
        ScanCount = scanCount;
        for (int cell = 0; cell < scanCount * Beams; cell++)
            _sets[cell].Clear();
        ForgetChoices();
    }

    /// <summary>Forgets every choice; results and hypotheses stay, so that another choice can be made from them.</summary>
    public void ForgetChoices()
    {
        Array.Fill(_chosen, (sbyte)HypothesisSet.NoWall);
    }

    /// <summary>Whether a cell lies in the strip.</summary>
    /// <param name="scan">Scan position in the stack.</param>
    /// <param name="beam">Beam in the stack.</param>
    public bool Contains(int scan, int beam) =>
        scan >= FirstScan && scan < FirstScan + ScanCount && beam >= 0 && beam < Beams;

    /// <summary>Hypotheses of a cell.</summary>
    /// <param name="scan">Scan position in the stack.</param>
    /// <param name="beam">Beam in the stack.</param>
    public ref HypothesisSet Hypotheses(int scan, int beam) => ref _sets[Index(scan, beam)];

    /// <summary>A cell's own result.</summary>
    /// <param name="scan">Scan position in the stack.</param>
    /// <param name="beam">Beam in the stack.</param>
    public ref CellResult Own(int scan, int beam) => ref _results[Index(scan, beam)];

    /// <summary>Which rule decided a cell by itself.</summary>
    /// <param name="scan">Scan position in the stack.</param>
    /// <param name="beam">Beam in the stack.</param>
    public ref TrainReason Reason(int scan, int beam) => ref _reasons[Index(scan, beam)];

    /// <summary>Hypothesis chosen over the map; <see cref="HypothesisSet.NoWall"/> for none.</summary>
    /// <param name="scan">Scan position in the stack.</param>
    /// <param name="beam">Beam in the stack.</param>
    public int Chosen(int scan, int beam) => _chosen[Index(scan, beam)];

    /// <summary>Own cost of a hypothesis and what neighbours add, nats; the smallest was chosen.</summary>
    /// <param name="scan">Scan position in the stack.</param>
    /// <param name="beam">Beam in the stack.</param>
    /// <param name="hypothesis">Index of the hypothesis.</param>
    public float Cost(int scan, int beam, int hypothesis) =>
        _costs[Index(scan, beam) * HypothesisSet.Most + hypothesis];

    /// <summary>Records a choice.</summary>
    /// <param name="scan">Scan position in the stack.</param>
    /// <param name="beam">Beam in the stack.</param>
    /// <param name="hypothesis">Index of the hypothesis.</param>
    /// <param name="total">Shape [hypothesis]: own cost and what neighbours add, nats.</param>
    internal void Choose(int scan, int beam, int hypothesis, ReadOnlySpan<float> total)
    {
        int cell = Index(scan, beam);
        _chosen[cell] = (sbyte)hypothesis;
        total.CopyTo(_costs.AsSpan(cell * HypothesisSet.Most));
    }

    private int Index(int scan, int beam) => (scan - FirstScan) * Beams + beam;
}
